import type { ArtObject } from '../../artwork/artObject.ts';
import { type BoxMm, intersectionOfBoxes } from '../../geometry/box.ts';
import { inverted, type Matrix, multiplied, transformed } from '../../geometry/matrix.ts';
import { clipMet } from './clips.ts';
import { plainComposite } from './composites.ts';
import { ContentWalk } from './contentWalk.ts';
import { type Colour, type GraphicsState, initialState } from './graphicsState.ts';
import { paintsOfShading } from './inkUse.ts';
import { limits } from './pageContext.ts';
import type { Paint } from './paint.ts';
import { overprintFacts, paintOfColour } from './paintShapes.ts';
import { asDict, asStream } from './pdfValues.ts';
import { recordObject } from './recordObject.ts';
import type { Clip, SceneItem } from './scene.ts';
import { readShading } from './shadings.ts';
import { decodedBytes } from './streamBytes.ts';

/**
 * Paints the inside of `clip` with the pattern of a colour: a shading as it is, a tiling as one cell at many places.
 * The object recorded is the shape, with the inks of the pattern.
 */
export function paintPattern(
  walk: ContentWalk,
  colour: Colour,
  stroking: boolean,
  kind: ArtObject['kind'],
  boxMm: BoxMm,
  clip: Clip,
  strokeWidthMm: ArtObject['strokeWidthMm'] = null,
): void {
  const { context, state } = walk;
  const { values } = context;
  const name = colour.patternName;
  const object = name === null ? null : context.resource(colour.resources, 'Pattern', name);
  const dict = asDict(object);
  if (!dict) {
    walk.unknown(`the pattern "${name ?? ''}"`);
    return;
  }
  const composite = walk.composite(stroking ? state.strokeAlpha : state.fillAlpha);
  const leavesOthers = stroking ? state.overprintStroke : state.overprintFill;
  const matrix = multiplied(colour.baseMatrix, values.matrixOf(dict, 'Matrix'));
  const record = (paints: readonly Paint[]) =>
    recordObject(context, {
      kind,
      boxMm,
      clip: state.clip,
      composite,
      layerPath: walk.layerPath,
      layerOff: walk.layerOff,
      overprint: overprintFacts(walk),
      paints,
      strokeWidthMm,
    });
  if (values.number(dict, 'PatternType') === 2) {
    const overprint = { on: leavesOthers, mode: 0 as const };
    const shading = readShading(context, values.get(dict, 'Shading'), colour.resources, overprint);
    if (!shading) {
      walk.unknown(`the shading of pattern "${name}"`);
      return;
    }
    const { drawn } = record(paintsOfShading(context, shading, leavesOthers, boxMm));
    if (!drawn) return;
    if (shading.background) {
      const path = boxPath(walk, clipMet(context, clip));
      const paint = shading.background;
      walk.out.push({ type: 'fill', path, evenOdd: false, pen: null, paint, composite, clip, boxMm });
    }
    walk.out.push({ type: 'shading', shading, matrix, leavesOthers, composite, clip, boxMm });
    return;
  }
  const cell = tileCell(walk, colour, stroking, dict, matrix);
  if (!cell) return;
  const { drawn } = record(cell.paints);
  const seen = intersectionOfBoxes(boxMm, clipMet(context, clip));
  if (!drawn || !seen || cell.items.length === 0) return;
  const offsetsMm = tileOffsets(walk, dict, matrix, seen);
  if (!offsetsMm) return;
  if ((offsetsMm.length / 2) * (1 + tileDraws(cell.items)) > limits.tileDraws) {
    context.notes.add('too-many-tiles', 'plate', tooManyTiles);
    return;
  }
  const plain = composite.alpha === 1 && composite.blendMode === 'Normal' && !composite.softMask;
  if (plain) walk.out.push({ type: 'tiles', items: cell.items, offsetsMm, composite, clip, boxMm });
  else {
    const tiles: SceneItem = { type: 'tiles', items: cell.items, offsetsMm, composite: plainComposite, clip, boxMm };
    walk.out.push({ type: 'group', items: [tiles], isolated: true, knockout: false, composite, clip, boxMm });
  }
}

/** The cell drawn once, at the pattern's own origin. */
function tileCell(
  walk: ContentWalk,
  colour: Colour,
  stroking: boolean,
  dict: ReturnType<typeof asDict>,
  matrix: Matrix,
) {
  const { context } = walk;
  const { values } = context;
  const stream = asStream(context.resource(colour.resources, 'Pattern', colour.patternName ?? ''));
  const bytes = stream && decodedBytes(values, stream);
  if (!stream || !bytes || walk.nesting >= limits.nesting || context.open.has(stream)) {
    walk.unknown('a tiling pattern that cannot be unpacked');
    return null;
  }
  const state: GraphicsState = initialState(matrix);
  state.overprintFill = walk.state.overprintFill;
  state.overprintStroke = walk.state.overprintStroke;
  state.overprintMode = walk.state.overprintMode;
  const uncoloured = values.number(dict, 'PaintType') === 2;
  if (uncoloured && colour.space.kind === 'pattern' && colour.space.base) {
    const flat = { ...colour, space: colour.space.base, patternName: null };
    state.fill = flat;
    state.stroke = flat;
    if (!paintOfColour(walk, flat, stroking)) return null;
  }
  const items: SceneItem[] = [];
  const inner = new ContentWalk(context, state, {
    resources: values.dict(dict, 'Resources') ?? walk.resources,
    out: items,
    nesting: walk.nesting + 1,
    layerPath: walk.layerPath,
    layerOff: walk.layerOff,
    uncoloured,
  });
  const box = values.numbersOf(dict, 'BBox');
  if (box && box.length >= 4) {
    inner.rectangle(box[0], box[1], box[2] - box[0], box[3] - box[1]);
    inner.clipTo(context.store.take(), false);
  }
  context.mutedDepth++;
  context.tileDepth++;
  context.open.add(stream);
  inner.run(bytes);
  context.open.delete(stream);
  context.tileDepth--;
  context.mutedDepth--;
  return { items, paints: paintsWithin(items) };
}

/** Offsets in film mm of every cell that can touch the box; null beyond the limit. */
function tileOffsets(walk: ContentWalk, dict: ReturnType<typeof asDict>, matrix: Matrix, seen: BoxMm): number[] | null {
  const { values, notes } = walk.context;
  const stepX = values.number(dict, 'XStep') ?? 0;
  const stepY = values.number(dict, 'YStep') ?? 0;
  const box = values.numbersOf(dict, 'BBox');
  const back = inverted(matrix);
  if (!back || !box || stepX === 0 || stepY === 0) {
    walk.unknown('a tiling pattern without steps');
    return null;
  }
  const corners = [
    transformed(back, seen.xMm, seen.yMm),
    transformed(back, seen.xMm + seen.widthMm, seen.yMm),
    transformed(back, seen.xMm, seen.yMm + seen.heightMm),
    transformed(back, seen.xMm + seen.widthMm, seen.yMm + seen.heightMm),
  ];
  const rangeOf = (values1: number[], low: number, high: number, step: number) => {
    const ends = [(Math.min(...values1) - high) / step, (Math.max(...values1) - low) / step];
    return [Math.ceil(Math.min(...ends) - 1e-6), Math.floor(Math.max(...ends) + 1e-6)];
  };
  const xs = corners.map(([x]) => x);
  const ys = corners.map(([, y]) => y);
  const [i0, i1] = rangeOf(xs, Math.min(box[0], box[2]), Math.max(box[0], box[2]), stepX);
  const [j0, j1] = rangeOf(ys, Math.min(box[1], box[3]), Math.max(box[1], box[3]), stepY);
  const count = (i1 - i0 + 1) * (j1 - j0 + 1);
  if (!(count <= limits.tiles)) {
    notes.add('too-many-tiles', 'plate', tooManyTiles);
    return null;
  }
  const offsets: number[] = [];
  for (let j = j0; j <= j1; j++) {
    for (let i = i0; i <= i1; i++) {
      const x = i * stepX;
      const y = j * stepY;
      offsets.push(matrix[0] * x + matrix[2] * y, matrix[1] * x + matrix[3] * y);
    }
  }
  return offsets;
}

const tooManyTiles = `A tiling pattern has more than ${limits.tiles} tiles, or patterns within it, and was not drawn.`;

/** How many cells are drawn to draw these items once. */
function tileDraws(items: readonly SceneItem[]): number {
  let count = 0;
  for (const item of items) {
    if (item.type === 'tiles') count += (item.offsetsMm.length / 2) * (1 + tileDraws(item.items));
    else if (item.type === 'group') count += tileDraws(item.items);
  }
  return count;
}

function paintsWithin(items: readonly SceneItem[]): Paint[] {
  const found = new Set<Paint>();
  const visit = (item: SceneItem): void => {
    if (item.type === 'fill' || item.type === 'stroke') found.add(item.paint);
    else if (item.type === 'image') {
      if (item.paint) found.add(item.paint);
    } else if (item.type === 'text') {
      for (const show of item.line.shows) {
        if (show.fillPaint) found.add(show.fillPaint);
        if (show.strokePaint) found.add(show.strokePaint);
      }
    } else if (item.type === 'group' || item.type === 'tiles') item.items.forEach(visit);
  };
  items.forEach(visit);
  return [...found];
}

function boxPath(walk: ContentWalk, box: BoxMm) {
  const { store } = walk.context;
  store.add(0, box.xMm, box.yMm);
  store.add(1, box.xMm + box.widthMm, box.yMm);
  store.add(1, box.xMm + box.widthMm, box.yMm + box.heightMm);
  store.add(1, box.xMm, box.yMm + box.heightMm);
  store.add(3);
  return store.take();
}
