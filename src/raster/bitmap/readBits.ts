import { type BitPlane, createBitPlane } from '../bitPlane.ts';
import type { BitmapRecipe } from './bitmapRecipe.ts';
import { orientedSize, readBands } from './readBands.ts';

/** The pixels of a one-bit bitmap, turned to read right; with `invert` samples that are 1 are clear. Throws `DamagedPixels`. */
export async function readBits(bytes: Uint8Array, recipe: BitmapRecipe, invert: boolean): Promise<BitPlane> {
  const { widthPx, heightPx } = orientedSize(recipe.source, recipe.orientation);
  const plane = createBitPlane(widthPx, heightPx);
  const { wordsPerRow, words } = plane;
  for await (const band of readBands(bytes, recipe)) {
    if (band.kind !== 'bits') throw new TypeError('bits were asked of a film of tones');
    const from = band.top * wordsPerRow;
    const rows = band.words.subarray(0, band.rows * wordsPerRow);
    if (invert) copyInverted(rows, words.subarray(from, from + rows.length), widthPx, wordsPerRow);
    else words.set(rows, from);
  }
  return plane;
}

function copyInverted(source: Uint32Array, target: Uint32Array, widthPx: number, wordsPerRow: number): void {
  const full = widthPx >> 5;
  const tail = (1 << (widthPx & 31)) - 1;
  for (let base = 0; base < source.length; base += wordsPerRow) {
    for (let at = base; at < base + full; at++) target[at] = ~source[at];
    if (tail !== 0) target[base + full] = ~source[base + full] & tail;
  }
}
