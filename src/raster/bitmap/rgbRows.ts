import type { AlphaSample, BitmapRecipe } from './bitmapRecipe.ts';
import { readBands } from './readBands.ts';

/** Rows either side that a window of rows carries so that neighbours can be looked at. */
export const haloRows = 2;
const windowRows = 128;

/** A pixel that is see-through; all others are `red << 16 | green << 8 | blue`. */
export const clearPixel = -1;

/** Rows of colours, `rows` of which are new; up to two rows before and after them are there as well. */
export interface RgbWindow {
  readonly top: number;
  readonly rows: number;
  /** First row of `pixels` in the image. */
  readonly firstRow: number;
  readonly rowCount: number;
  readonly pixels: Int32Array;
  /** Pixels inside areas of one opacity that are neither see-through nor opaque. */
  readonly halfClear: number;
}

/**
 * The colours of a bitmap in windows, top to bottom, each row new once. A pixel less than half opaque counts as
 * see-through, every other as of its full colour. The window's memory is used again for the next.
 */
export async function* rgbRows(
  bytes: Uint8Array,
  recipe: BitmapRecipe,
  rgbSamples: readonly [number, number, number],
  alpha: AlphaSample | null,
  widthPx: number,
): AsyncIterable<RgbWindow> {
  const capacity = windowRows + 2 * haloRows;
  const pixels = new Int32Array(widthPx * capacity);
  let firstRow = 0;
  let filled = 0;
  let done = 0;
  let halfClear = 0;
  for await (const band of readBands(bytes, recipe)) {
    if (band.kind !== 'samples') continue;
    for (let row = 0; row < band.rows; row++) {
      halfClear += fillRow(pixels, filled * widthPx, band.planes, row * widthPx, widthPx, rgbSamples, alpha);
      filled++;
      if (filled < capacity) continue;
      const end = firstRow + filled - haloRows;
      yield { top: done, rows: end - done, firstRow, rowCount: filled, pixels, halfClear };
      halfClear = 0;
      done = end;
      const kept = 2 * haloRows;
      pixels.copyWithin(0, (filled - kept) * widthPx, filled * widthPx);
      firstRow += filled - kept;
      filled = kept;
    }
  }
  const end = firstRow + filled;
  if (end > done) yield { top: done, rows: end - done, firstRow, rowCount: filled, pixels, halfClear };
}

function fillRow(
  pixels: Int32Array,
  target: number,
  planes: readonly Uint8Array[],
  source: number,
  widthPx: number,
  [r, g, b]: readonly [number, number, number],
  alpha: AlphaSample | null,
): number {
  const red = planes[r];
  const green = planes[g];
  const blue = planes[b];
  if (alpha === null) {
    for (let i = 0, at = source; i < widthPx; i++, at++) {
      pixels[target + i] = (red[at] << 16) | (green[at] << 8) | blue[at];
    }
    return 0;
  }
  const cover = planes[alpha.sample];
  let halfClear = 0;
  for (let i = 0, at = source; i < widthPx; i++, at++) {
    const a = cover[at];
    // Only inside an area: the edges of solid shapes are half see-through as well.
    if (a > 0 && a < 255 && i > 0 && i < widthPx - 1 && cover[at - 1] === a && cover[at + 1] === a) halfClear++;
    if (a < 128) pixels[target + i] = clearPixel;
    else if (alpha.premultiplied && a < 255) {
      const full = (value: number) => Math.min(255, Math.round((value * 255) / a));
      pixels[target + i] = (full(red[at]) << 16) | (full(green[at]) << 8) | full(blue[at]);
    } else pixels[target + i] = (red[at] << 16) | (green[at] << 8) | blue[at];
  }
  return halfClear;
}
