import { type BoxMm, grownBox } from '../../geometry/box.ts';
import { stretch, transformed } from '../../geometry/matrix.ts';
import type { PathRange } from '../../geometry/pathStore.ts';
import type { Pen } from '../../geometry/pen.ts';
import { strokeOutline } from '../../geometry/strokeOutline.ts';
import { clipMet, withClipPath } from './clips.ts';
import type { ContentWalk } from './contentWalk.ts';
import type { Colour } from './graphicsState.ts';
import { colourClassOf } from './images.ts';
import { paintsOfImage, paintsOfShading } from './inkUse.ts';
import { type Paint, paintOf } from './paint.ts';
import { paintPattern } from './patterns.ts';
import { notePictureDamage } from './pictureDamage.ts';
import { recordObject } from './recordObject.ts';
import type { ImageFacts } from './scene.ts';
import { readShading } from './shadings.ts';

/** Paint of a colour that is no pattern; null where nothing is painted. */
export function paintOfColour(walk: ContentWalk, colour: Colour, stroking: boolean): Paint | null {
  const { state, context } = walk;
  const kind = colour.space.kind === 'indexed' ? colour.space.base.kind : colour.space.kind;
  if (kind === 'rgb' || kind === 'cmyk' || kind === 'inks') context.paints.colour = true;
  else context.paints.grey = true;
  const on = stroking ? state.overprintStroke : state.overprintFill;
  const memo = memos.get(colour);
  if (memo && memo.on === on && memo.mode === state.overprintMode) return memo.paint;
  const paint = paintOf(colour.space, colour.components, { on, mode: state.overprintMode }, context.inks);
  memos.set(colour, { on, mode: state.overprintMode, paint });
  return paint;
}

const memos = new WeakMap<Colour, { on: boolean; mode: 0 | 1; paint: Paint | null }>();

export function overprintFacts(walk: ContentWalk) {
  const { overprintFill, overprintStroke, overprintMode } = walk.state;
  return overprintFacts8[(overprintFill ? 1 : 0) + (overprintStroke ? 2 : 0) + (overprintMode ? 4 : 0)];
}

// Shared by all objects, so that hundreds of thousands of them cost nothing here.
const overprintFacts8 = [0, 1, 2, 3, 4, 5, 6, 7].map((k) => ({
  fill: (k & 1) !== 0,
  stroke: (k & 2) !== 0,
  mode: (k & 4 ? 1 : 0) as 0 | 1,
}));

export function fillPath(walk: ContentWalk, path: PathRange, evenOdd: boolean): void {
  const { context, state } = walk;
  const boxMm = context.store.boxOf(path);
  if (state.fill.space.kind === 'pattern') {
    paintPattern(walk, state.fill, false, 'fill', boxMm, withClipPath(context, state.clip, path, evenOdd));
    return;
  }
  const paint = paintOfColour(walk, state.fill, false);
  if (!paint) return;
  const composite = walk.composite(state.fillAlpha);
  const { drawn } = recordObject(context, {
    kind: 'fill',
    boxMm,
    clip: state.clip,
    composite,
    layerPath: walk.layerPath,
    layerOff: walk.layerOff,
    overprint: overprintFacts(walk),
    paints: [paint],
    drawn: { path, evenOdd, pen: null },
  });
  if (drawn) walk.out.push({ type: 'fill', path, evenOdd, pen: null, paint, composite, clip: state.clip, boxMm });
}

export function strokePath(walk: ContentWalk, path: PathRange): void {
  const { context, state } = walk;
  const pen = penOf(walk);
  const widths = strokeWidthMm(pen);
  const boxMm = grownBox(context.store.boxOf(path), widths.max / 2);
  const isPattern = state.stroke.space.kind === 'pattern';
  const paint = isPattern ? null : paintOfColour(walk, state.stroke, true);
  if (isPattern) {
    const outline = strokeOutline(context.store, path, pen, 0.01, context.store);
    paintPattern(walk, state.stroke, true, 'stroke', boxMm, withClipPath(context, state.clip, outline, false), widths);
    return;
  }
  if (!paint) return;
  if (pen.width === 0) {
    context.notes.add(
      'hairline',
      'nothing',
      'A stroke of width 0 is in the art; it is drawn one pixel wide, whatever the resolution.',
    );
  }
  const composite = walk.composite(state.strokeAlpha);
  const { drawn } = recordObject(context, {
    kind: 'stroke',
    boxMm,
    clip: state.clip,
    composite,
    layerPath: walk.layerPath,
    layerOff: walk.layerOff,
    overprint: overprintFacts(walk),
    paints: [paint],
    strokeWidthMm: widths,
    drawn: { path, evenOdd: false, pen },
  });
  if (drawn) walk.out.push({ type: 'stroke', path, evenOdd: false, pen, paint, composite, clip: state.clip, boxMm });
}

export function penOf(walk: ContentWalk): Pen {
  const { lineWidth, cap, join, miterLimit, dash, dashPhase, matrix } = walk.state;
  return { width: lineWidth, cap, join, miterLimit, dash, dashPhase, matrix };
}

export function strokeWidthMm(pen: Pen): { min: number; max: number } {
  const { min, max } = stretch(pen.matrix);
  return { min: pen.width * min, max: pen.width * max };
}

export function paintImage(walk: ContentWalk, image: ImageFacts): void {
  const { context, state } = walk;
  const { matrix } = state;
  const boxMm = boxOfUnitSquare(walk);
  const composite = walk.composite(state.fillAlpha);
  if (image.isStencil && state.fill.space.kind === 'pattern') {
    context.notes.add('pattern-stencil', 'plate', 'A stencil picture painted with a pattern cannot be drawn.');
    return;
  }
  if (!image.isStencil && !image.space) {
    walk.unknown('a picture in a colour space it does not explain');
    return;
  }
  const stencilPaint = image.isStencil ? paintOfColour(walk, state.fill, false) : null;
  if (image.isStencil && !stencilPaint) return;
  const leavesOthers = state.overprintFill;
  noteColourOf(walk, image, boxMm);
  notePictureDamage(context, image, boxMm);
  const [acrossX, acrossY] = [matrix[0], matrix[1]];
  const widthMm = Math.hypot(acrossX, acrossY);
  const heightMm = Math.hypot(matrix[2], matrix[3]);
  const { drawn } = recordObject(context, {
    kind: 'image',
    boxMm,
    clip: state.clip,
    composite,
    layerPath: walk.layerPath,
    layerOff: walk.layerOff,
    overprint: overprintFacts(walk),
    paints: stencilPaint ? [stencilPaint] : paintsOfImage(context, image, leavesOthers),
    image: {
      widthPx: image.widthPx,
      heightPx: image.heightPx,
      ppiX: widthMm > 0 ? (image.widthPx * 25.4) / widthMm : 0,
      ppiY: heightMm > 0 ? (image.heightPx * 25.4) / heightMm : 0,
      bitsPerComponent: image.bits,
      colour: colourClassOf(image),
    },
  });
  if (!drawn) return;
  walk.out.push({
    type: 'image',
    matrix,
    image,
    paint: stencilPaint,
    leavesOthers: stencilPaint ? stencilPaint.leavesOthers : leavesOthers,
    composite,
    clip: state.clip,
    boxMm,
  });
}

function noteColourOf(walk: ContentWalk, image: ImageFacts, boxMm: BoxMm): void {
  const { context } = walk;
  const base = image.space?.kind === 'indexed' ? image.space.base : image.space;
  if (base?.kind === 'rgb') {
    context.paints.colour = true;
    const small = image.space?.kind === 'indexed' && image.space.highest < 16;
    if (!small) {
      context.notes.add('colour-picture', 'inks', 'A picture in RGB colour belongs to no ink and is on no plate.', {
        boxMm,
      });
    }
  } else if (base?.kind === 'gray') context.paints.grey = true;
  else if (base) context.paints.colour = true;
  const matte = context.values.get(context.values.dict(image.dict, 'SMask'), 'Matte');
  if (matte)
    context.notes.add(
      'matte-picture',
      'plate',
      'A picture is blended with a matte colour; its edges are not verified.',
      { boxMm },
    );
  if (image.filters.includes('JPXDecode') && base?.kind === 'cmyk') {
    context.notes.add('jpx-picture', 'plate', 'A JPEG 2000 picture in CMYK is drawn, but its tones are not verified.', {
      boxMm,
    });
  }
}

function boxOfUnitSquare(walk: ContentWalk): BoxMm {
  const { matrix } = walk.state;
  const corners = [
    transformed(matrix, 0, 0),
    transformed(matrix, 1, 0),
    transformed(matrix, 0, 1),
    transformed(matrix, 1, 1),
  ];
  const xs = corners.map(([x]) => x);
  const ys = corners.map(([, y]) => y);
  const xMm = Math.min(...xs);
  const yMm = Math.min(...ys);
  return { xMm, yMm, widthMm: Math.max(...xs) - xMm, heightMm: Math.max(...ys) - yMm };
}

/** `sh`: paints the clip with a shading. */
export function paintShading(walk: ContentWalk, name: string): void {
  const { context, state } = walk;
  const shading = readShading(context, context.resource(walk.resources, 'Shading', name), walk.resources, null);
  if (!shading) {
    walk.unknown(`the shading "${name}"`);
    return;
  }
  const boxMm = clipMet(context, state.clip);
  const composite = walk.composite(state.fillAlpha);
  const { drawn } = recordObject(context, {
    kind: 'shading',
    boxMm,
    clip: state.clip,
    composite,
    layerPath: walk.layerPath,
    layerOff: walk.layerOff,
    overprint: overprintFacts(walk),
    paints: paintsOfShading(context, shading, state.overprintFill, boxMm),
  });
  if (!drawn) return;
  const leavesOthers = state.overprintFill;
  walk.out.push({ type: 'shading', shading, matrix: state.matrix, leavesOthers, composite, clip: state.clip, boxMm });
}
