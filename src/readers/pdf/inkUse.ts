import type { PDFObject } from '@cantoo/pdf-lib';
import type { BoxMm } from '../../geometry/box.ts';
import { type ColourSpace, indexedComponents } from './colourSpace.ts';
import { readFunction } from './functions.ts';
import type { PageContext } from './pageContext.ts';
import { type Paint, paintOf } from './paint.ts';
import type { ImageFacts, ShadingFacts } from './scene.ts';

/** Largest image that is unpacked to see which of its components carry ink at all. */
const maxSeenBytes = 96 * 1024 * 1024;

/** Paints standing for an image: the largest ink of every component. */
export function paintsOfImage(context: PageContext, image: ImageFacts, leavesOthers: boolean): Paint[] {
  const { space } = image;
  const overprint = { on: leavesOthers, mode: 0 as const };
  if (!space) return [];
  if (space.kind === 'indexed') {
    if (space.base.kind === 'rgb' && space.highest >= 16) return [];
    const paints: Paint[] = [];
    const used = usedEntries(context, image);
    for (let k = 0; k <= Math.min(space.highest, 2 ** image.bits - 1); k++) {
      if (used && !used[k]) continue;
      const paint = paintOf(space.base, indexedComponents(space, k), overprint, context.inks, false);
      if (paint) paints.push(paint);
    }
    return paints;
  }
  if (space.kind === 'rgb' || space.kind === 'pattern') return [];
  const strongest = strongestComponents(context, image, space) ?? fullComponents(space);
  const paint = paintOf(space, strongest, overprint, context.inks, false);
  return paint ? [paint] : [];
}

/** Paints standing for a shading, taken at steps along its function. */
export function paintsOfShading(
  context: PageContext,
  shading: ShadingFacts,
  leavesOthers: boolean,
  boxMm: BoxMm,
): Paint[] {
  const { values } = context;
  const { space, dict } = shading;
  const overprint = { on: leavesOthers, mode: 0 as const };
  if (space.kind === 'rgb' || (space.kind === 'indexed' && space.base.kind === 'rgb')) {
    context.notes.add('colour-shading', 'inks', 'A shading in RGB colour belongs to no ink and is on no plate.', {
      boxMm,
    });
    return [];
  }
  const functionObject = values.get(dict, 'Function');
  if (!functionObject || values.number(dict, 'ShadingType') === 1) {
    const paint = paintOf(space, fullComponents(space), overprint, context.inks, false);
    return paint ? [paint] : [];
  }
  const parts: (PDFObject | null)[] = values.list(functionObject) ?? [functionObject];
  const functions = parts.map((part) => readFunction(values, part));
  const [from, to] = values.numbersOf(dict, 'Domain') ?? [0, 1];
  const paints: Paint[] = [];
  for (let k = 0; k <= 32; k++) {
    const colour = functions.flatMap((f) => f?.([from + ((to - from) * k) / 32]) ?? []);
    const paint = colour.length > 0 ? paintOf(space, colour, overprint, context.inks, false) : null;
    if (paint) paints.push(paint);
  }
  return paints;
}

function fullComponents(space: ColourSpace): number[] {
  return new Array<number>(space.components).fill(space.kind === 'gray' ? 0 : 1);
}

/** Which entries of its table an indexed picture uses; null where that cannot be seen here. */
function usedEntries(context: PageContext, image: ImageFacts): Uint8Array | null {
  const bytes = image.stream && context.unpackedPicture(image.stream);
  const { bits, widthPx, heightPx } = image;
  const rowBytes = Math.ceil((widthPx * bits) / 8);
  if (!bytes || bits > 8 || bytes.length < rowBytes * heightPx || context.values.get(image.dict, 'Decode')) return null;
  const used = new Uint8Array(256);
  const perByte = 8 / bits;
  const mask = (1 << bits) - 1;
  for (let row = 0; row < heightPx; row++) {
    for (let column = 0; column < widthPx; column++) {
      const byte = bytes[row * rowBytes + Math.floor(column / perByte)];
      used[(byte >> (8 - bits * ((column % perByte) + 1))) & mask] = 1;
    }
  }
  return used;
}

/** Per component the value with the most ink, from the samples; null where they cannot be unpacked here. */
function strongestComponents(context: PageContext, image: ImageFacts, space: ColourSpace): number[] | null {
  if (image.bits !== 8 && image.bits !== 1) return null;
  const count = space.components;
  const rowBytes = Math.ceil((image.widthPx * count * image.bits) / 8);
  const wanted = rowBytes * image.heightPx;
  if (wanted > maxSeenBytes) return null;
  const bytes = image.stream && context.unpackedPicture(image.stream);
  if (!bytes || bytes.length < wanted) return null;
  if (image.bits === 1 && count > 1) return null;
  const low = new Uint8Array(count).fill(255);
  const high = new Uint8Array(count);
  const spare = image.bits === 1 ? rowBytes * 8 - image.widthPx : 0;
  if (image.bits === 1) {
    for (let at = 0; at < wanted; at++) {
      let byte = bytes[at];
      let mask = 255;
      if (spare > 0 && (at + 1) % rowBytes === 0) mask = (255 << spare) & 255;
      byte &= mask;
      if (byte !== 0) high[0] = 255;
      if (byte !== mask) low[0] = 0;
      if (high[0] === 255 && low[0] === 0) break;
    }
  } else {
    for (let at = 0, k = 0; at < wanted; at++) {
      const byte = bytes[at];
      if (byte > high[k]) high[k] = byte;
      if (byte < low[k]) low[k] = byte;
      if (++k === count) k = 0;
    }
  }
  const decode = context.values.numbersOf(image.dict, 'Decode');
  return Array.from({ length: count }, (_, k) => {
    const from = decode?.[2 * k] ?? 0;
    const to = decode?.[2 * k + 1] ?? 1;
    const a = from + (low[k] / 255) * (to - from);
    const b = from + (high[k] / 255) * (to - from);
    return space.kind === 'gray' ? Math.min(a, b) : Math.max(a, b);
  });
}
