import sharp from 'sharp';
import type { SvgJob } from '../../artwork/drawing.ts';
import { type BoxMm, containsBox, unionOfBoxes } from '../../geometry/box.ts';
import { identity, type Matrix } from '../../geometry/matrix.ts';
import { createDefinitions, type DraftFragment } from './definitions.ts';
import type { Clip, GradientPaint, Item, Leaf, Mask, Paint, Stroke, Swatch, TextRun } from './displayList.ts';
import { clippedBox } from './itemBoxes.ts';
import { pathText, shortNumber } from './paths.ts';
import { escaped } from './texts.ts';

/** How the colours of the file become those of a rendering. */
export interface Colouring {
  /** `#rrggbb` for a colour of a leaf. */
  colourOf(leaf: Leaf, swatch: Swatch): string;
  /** Each leaf in one colour without any tone: gradients, opacities, blending and toned masks are left off. */
  readonly flat: boolean;
  /** Leaves to draw; absent: all. */
  readonly includes?: (leaf: Leaf) => boolean;
  /** Clips left off. */
  readonly ignoresClips?: boolean;
}

/** Items of one run behind the same clips: few enough that runs can still be left out of tiles they miss. */
const clipRunLength = 64;
/** The same for tiles of a pattern, which are small and many. */
const instanceRunLength = 2000;

/** The items as markup, in runs that share their clips, with the box each run can draw in. */
export async function emitItems(
  items: readonly Item[],
  colouring: Colouring,
): Promise<Pick<SvgJob, 'defs' | 'fragments'>> {
  const emitter = createEmitter(colouring);
  for (const item of items) await emitter.prepare(item);
  return emitter.finish(items);
}

function createEmitter(colouring: Colouring) {
  const definitions = createDefinitions();
  const pictures = new Map<Leaf, string>();
  let gradientCount = 0;

  const raw: Colouring = { colourOf: (_leaf, swatch) => swatch.colour.hex, flat: false };

  const prepare = async (item: Item): Promise<void> => {
    if (item.type !== 'leaf') for (const child of item.children) await prepare(child);
    else if (item.image?.pixels && !colouring.flat) {
      pictures.set(item, await pictureData(item, colouring.colourOf(item, (item.paint as { swatch: Swatch }).swatch)));
    }
  };

  const defineClip = (clip: Clip): string =>
    definitions.define(clip.id, () => {
      const shapes = clip.shapes.map((shape) => emit(shape, raw)).join('');
      return maskMarkup(clip.id, wrapInClips(clip.within, shapes), false);
    });

  const defineMask = (mask: Mask): string =>
    definitions.define(mask.id, () =>
      maskMarkup(mask.id, mask.items.map((item) => emit(item, raw)).join(''), mask.usesAlpha),
    );

  const wrapInClips = (clips: readonly Clip[], markup: string): string =>
    clips.reduceRight((inner, clip) => `<g mask="url(#${defineClip(clip)})">${inner}</g>`, markup);

  /** The clips that change what an item draws; null when they leave nothing of it. */
  const neededClips = (item: Item): readonly Clip[] | null => {
    if (colouring.ignoresClips === true) return [];
    const rest = clippedBox(item.cullBoxMm, item.clips);
    if (rest !== null && item.clips.length > 0 && (rest.widthMm <= 0 || rest.heightMm <= 0)) return null;
    const box = item.cullBoxMm;
    return item.clips.filter(
      (clip) => !(clip.isRectangle && box !== null && clip.boxMm !== null && containsBox(clip.boxMm, box)),
    );
  };

  /** Markup of an item without its clips. */
  const emitBare = (item: Item, colours: Colouring): string => {
    if (item.type === 'leaf') {
      if (colours.includes !== undefined && !colours.includes(item)) return '';
      return emitLeaf(item, colours);
    }
    const inner = item.children.map((child) => emit(child, colours)).join('');
    if (inner === '') return '';
    if (item.type === 'instance') return `<g${transformText(item.shift)}>${inner}</g>`;
    const style = [
      item.opacity < 1 && !colours.flat ? `opacity:${shortNumber(item.opacity)}` : '',
      item.blend !== 'normal' && !colours.flat ? `mix-blend-mode:${item.blend}` : '',
    ].filter((part) => part !== '');
    const mask =
      item.mask !== null && !(colours.flat && item.mask.hasTone) ? ` mask="url(#${defineMask(item.mask)})"` : '';
    const masked = mask === '' ? inner : `<g${mask}>${inner}</g>`;
    return style.length === 0 ? masked : `<g style="${style.join(';')}">${masked}</g>`;
  };

  const emit = (item: Item, colours: Colouring): string => {
    const clips = neededClips(item);
    if (clips === null) return '';
    const bare = emitBare(item, colours);
    return bare === '' ? '' : wrapInClips(clips, bare);
  };

  const emitLeaf = (leaf: Leaf, colours: Colouring): string => {
    if (leaf.text !== null) return emitText(leaf, leaf.text, leaf.matrix, colours);
    const picture = pictures.get(leaf);
    if (picture !== undefined && !colours.flat) return picture;
    const { definition, value, opacity } = paintMarkup(
      leaf,
      leaf.paint!,
      colours,
      leaf.paint?.kind === 'gradient' && leaf.paint.ofBox,
    );
    const shape = `<path d="${pathText(leaf.path)}"${transformText(leaf.matrix)}`;
    if (leaf.stroke !== null) {
      return `${definition}${shape} fill="none" stroke="${value}"${opacity === 1 ? '' : ` stroke-opacity="${shortNumber(opacity)}"`}${strokeMarkup(leaf.stroke)}/>`;
    }
    const rule = leaf.fillRule === 'evenodd' ? ' fill-rule="evenodd"' : '';
    return `${definition}${shape} fill="${value}"${opacity === 1 ? '' : ` fill-opacity="${shortNumber(opacity)}"`}${rule}/>`;
  };

  const emitText = (leaf: Leaf, run: TextRun, matrix: Matrix, colours: Colouring): string => {
    const fill = run.fill === null ? null : paintMarkup(leaf, run.fill, colours, true);
    const stroke = run.stroke === null ? null : paintMarkup(leaf, run.stroke.paint, colours, true);
    const fillPart = `fill="${fill?.value ?? 'none'}"${(fill?.opacity ?? 1) === 1 ? '' : ` fill-opacity="${shortNumber(fill!.opacity)}"`}`;
    const strokePart =
      stroke === null
        ? ' stroke="none"'
        : ` stroke="${stroke.value}"${stroke.opacity === 1 ? '' : ` stroke-opacity="${shortNumber(stroke.opacity)}"`}${strokeMarkup(run.stroke!.stroke)}`;
    const inner = run.children.map((child) =>
      typeof child === 'string' ? escaped(child) : emitText(leaf, child, identity, colours),
    );
    const where = run.tag === 'text' ? `${transformText(matrix)} text-rendering="optimizeSpeed"` : '';
    return `${fill?.definition ?? ''}${stroke?.definition ?? ''}<${run.tag}${where}${run.attributes} ${fillPart}${strokePart}>${inner.join('')}</${run.tag}>`;
  };

  const paintMarkup = (leaf: Leaf, paint: Paint, colours: Colouring, ofBox: boolean) => {
    const [first] = paint.kind === 'flat' ? [paint.swatch] : paint.stops.map(({ swatch }) => swatch);
    if (paint.kind === 'flat' || colours.flat) {
      return { definition: '', value: colours.colourOf(leaf, first), opacity: colours.flat ? 1 : first.alpha };
    }
    const id = `g${gradientCount++}`;
    return { definition: gradientMarkup(id, leaf, paint, colours, ofBox), value: `url(#${id})`, opacity: 1 };
  };

  const finish = (items: readonly Item[]): Pick<SvgJob, 'defs' | 'fragments'> => {
    const drafts: DraftFragment[] = [];
    let index = 0;
    while (index < items.length) {
      const clips = neededClips(items[index]);
      if (clips === null) {
        index++;
        continue;
      }
      const needs = definitions.startFragment();
      const run: string[] = [];
      let box: BoxMm | null | undefined;
      const limit = clips.length === 0 ? 1 : items[index].type === 'instance' ? instanceRunLength : clipRunLength;
      for (; index < items.length && run.length < limit; index++) {
        const own = neededClips(items[index]);
        if (own === null) continue;
        if (!sameClips(own, clips)) break;
        run.push(emitBare(items[index], colouring));
        const itemBox = clippedBox(items[index].cullBoxMm, clips);
        box = box === undefined ? itemBox : box === null || itemBox === null ? null : unionOfBoxes(box, itemBox);
      }
      const markup = run.join('');
      if (markup === '') continue;
      drafts.push({
        markup: wrapInClips(clips, markup),
        boxMm: box ? [box.xMm, box.yMm, box.xMm + box.widthMm, box.yMm + box.heightMm] : null,
        needs,
      });
    }
    return definitions.join(drafts);
  };
  return { prepare, finish };
}

function sameClips(a: readonly Clip[], b: readonly Clip[]): boolean {
  return a.length === b.length && a.every((clip, index) => clip === b[index]);
}

/** A mask over everything: its own region must not cut, so it is far larger than any film. */
function maskMarkup(id: string, inner: string, usesAlpha: boolean): string {
  const type = usesAlpha ? ' style="mask-type:alpha"' : '';
  return `<mask id="${id}" maskUnits="userSpaceOnUse" x="-100000" y="-100000" width="200000" height="200000"${type}>${inner}</mask>`;
}

/** Twelve significant figures, so that the dust of multiplications does not decide which side of an edge a pixel is on. */
function matrixText(matrix: Matrix): string {
  return matrix.map((value) => (Math.abs(value) < 1e-12 ? 0 : Number(value.toPrecision(12)))).join(' ');
}

function transformText(matrix: Matrix): string {
  return matrixText(matrix) === matrixText(identity) ? '' : ` transform="matrix(${matrixText(matrix)})"`;
}

function strokeMarkup(stroke: Stroke): string {
  const join = stroke.join === 'round' || stroke.join === 'bevel' ? stroke.join : 'miter';
  return (
    ` stroke-width="${shortNumber(stroke.width)}" stroke-linecap="${stroke.cap}" stroke-linejoin="${join}"` +
    ` stroke-miterlimit="${shortNumber(stroke.miterLimit)}"` +
    (stroke.dashes.length === 0
      ? ''
      : ` stroke-dasharray="${stroke.dashes.map(shortNumber).join(' ')}" stroke-dashoffset="${shortNumber(stroke.dashOffset)}"`)
  );
}

function gradientMarkup(id: string, leaf: Leaf, paint: GradientPaint, colours: Colouring, ofBox: boolean): string {
  const names = paint.form === 'linear' ? ['x1', 'y1', 'x2', 'y2'] : ['cx', 'cy', 'r', 'fx', 'fy', 'fr'];
  const geometry = paint.geometry.map((value, index) => ` ${names[index]}="${shortNumber(value)}"`).join('');
  const stops = paint.stops
    .map(
      ({ offset, swatch }) =>
        `<stop offset="${shortNumber(offset)}" stop-color="${colours.colourOf(leaf, inkedSwatch(paint, offset, swatch))}" stop-opacity="${shortNumber(swatch.alpha)}"/>`,
    )
    .join('');
  const units = paint.ofBox && ofBox ? 'objectBoundingBox' : 'userSpaceOnUse';
  const tag = `${paint.form}Gradient`;
  return `<${tag} id="${id}" gradientUnits="${units}" spreadMethod="${paint.spread}" gradientTransform="matrix(${matrixText(paint.matrix)})"${geometry}>${stops}</${tag}>`;
}

/** A stop that lets everything through has no ink of its own: it fades the nearest one's. */
function inkedSwatch(paint: GradientPaint, offset: number, swatch: Swatch): Swatch {
  if (swatch.alpha > 0) return swatch;
  const inked = paint.stops.filter((stop) => stop.swatch.alpha > 0);
  inked.sort((a, b) => Math.abs(a.offset - offset) - Math.abs(b.offset - offset));
  return inked[0]?.swatch ?? swatch;
}

/**
 * A black-and-white picture with its black in the ink's colour, drawn pixel by pixel. A rim of clear pixels is added
 * around it, because the renderer blends the outermost edge of pictures.
 */
async function pictureData(leaf: Leaf, colour: string): Promise<string> {
  const { widthPx, heightPx, pixels } = leaf.image!;
  const [width, height] = [widthPx + 2, heightPx + 2];
  const bytes = Buffer.alloc(4 * width * height);
  const [red, green, blue] = [1, 3, 5].map((start) => Number.parseInt(colour.slice(start, start + 2), 16));
  pixels!.forEach((pixel, index) => {
    if (pixel === 2) return;
    const offset = 4 * ((Math.floor(index / widthPx) + 1) * width + (index % widthPx) + 1);
    bytes[offset] = pixel === 0 ? red : 255;
    bytes[offset + 1] = pixel === 0 ? green : 255;
    bytes[offset + 2] = pixel === 0 ? blue : 255;
    bytes[offset + 3] = 255;
  });
  const png = await sharp(bytes, { raw: { width, height, channels: 4 }, limitInputPixels: false })
    .png()
    .toBuffer();
  const [[, x, y], [, right], [, , bottom]] = leaf.path as unknown as [string, number, number][];
  const [stepX, stepY] = [(right - x) / widthPx, (bottom - y) / heightPx];
  const place = { x: x - stepX, y: y - stepY, width: stepX * width, height: stepY * height };
  const attributes = Object.entries(place).map(([name, value]) => ` ${name}="${shortNumber(value)}"`);
  return (
    `<image${transformText(leaf.matrix)}${attributes.join('')} preserveAspectRatio="none"` +
    ` image-rendering="optimizeSpeed" href="data:image/png;base64,${png.toString('base64')}"/>`
  );
}
