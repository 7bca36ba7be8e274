import type { Plate } from '../plates/plate.ts';
import type { BitPlane } from '../raster/bitPlane.ts';
import { createBitPlane } from '../raster/bitPlane.ts';
import { type TonePlane, tileSidePx } from '../raster/tonePlane.ts';

/** A plate cut to ink and clear film at one level. */
export interface MarkLevel {
  readonly bits: BitPlane;
  /** How much wider than it is a black line looks at this level at most, in pixels; less than 0: narrower. */
  readonly softPx: number;
  /** Whether to look for black marks, for white ones, or for both. */
  readonly look: 'both' | 'black' | 'white';
}

const lowShare = 0.25;
const highShare = 0.7;
/** Tones between clear and black on more of the film than this are those of a scan. */
const leastGreyShare = 0.001;

/**
 * The levels a plate is looked at: half tone, and where it has the soft edges of a scan also a low one, at which thin
 * black lines are whole, and a high one for thin white ones. Those two are smoothed over three pixels.
 */
export function markLevels(plate: Plate): MarkLevel[] {
  const half: MarkLevel = { bits: plate.bits, softPx: 0, look: 'both' };
  const { tone, toneHistogram } = plate;
  if (tone === null) return [half];
  const { clear, black, grey } = tonesOf(toneHistogram);
  if (grey < leastGreyShare || black - clear < 60) return [half];
  const cut = smoothedAt(tone, [clear + lowShare * (black - clear), clear + highShare * (black - clear)]);
  return [half, { bits: cut[0], softPx: 2.5, look: 'black' }, { bits: cut[1], softPx: 2.5, look: 'white' }];
}

/** The commonest light and dark tone, and the share of the film that has neither nor nearly. */
export function tonesOf(histogram: Float64Array): { clear: number; black: number; grey: number } {
  let clear = 0;
  let black = 255;
  for (let tone = 0; tone < 110; tone++) if (histogram[tone] > histogram[clear]) clear = tone;
  for (let tone = 255; tone > 145; tone--) if (histogram[tone] > histogram[black]) black = tone;
  let all = 0;
  let between = 0;
  const margin = 0.15 * (black - clear);
  histogram.forEach((count, tone) => {
    all += count;
    if (tone > clear + margin && tone < black - margin) between += count;
  });
  return { clear, black, grey: all === 0 ? 0 : between / all };
}

/** The mean of three by three pixels, cut at several levels. */
function smoothedAt(tone: TonePlane, levels: readonly number[]): BitPlane[] {
  const { widthPx, heightPx } = tone;
  const planes = levels.map(() => createBitPlane(widthPx, heightPx));
  const rows = [0, 1, 2].map(() => new Uint8Array(widthPx + 2));
  const sums = new Uint16Array(widthPx + 2);
  for (let row = 0; row <= heightPx; row++) {
    if (row < heightPx) readRow(tone, row, rows[row % 3]);
    else rows[row % 3].set(rows[(row + 2) % 3]);
    if (row === 0) {
      rows[2].set(rows[0]);
      continue;
    }
    const [a, b, c] = rows;
    for (let column = 0; column < widthPx + 2; column++) sums[column] = a[column] + b[column] + c[column];
    planes.forEach(({ words, wordsPerRow }, index) => {
      const limit = 9 * levels[index];
      const base = (row - 1) * wordsPerRow;
      for (let column = 0; column < widthPx; column++) {
        if (sums[column] + sums[column + 1] + sums[column + 2] >= limit)
          words[base + (column >> 5)] |= 1 << (column & 31);
      }
    });
  }
  return planes;
}

/** A row of tones with one more at each end, the same as the last one. */
function readRow({ widthPx, tilesPerRow, flatTones, tiles }: TonePlane, row: number, into: Uint8Array): void {
  const first = Math.floor(row / tileSidePx) * tilesPerRow;
  const start = (row % tileSidePx) * tileSidePx;
  for (let tile = 0; tile < tilesPerRow; tile++) {
    const from = tile * tileSidePx;
    const count = Math.min(tileSidePx, widthPx - from);
    const flat = flatTones[first + tile];
    if (flat >= 0) into.fill(flat, from + 1, from + 1 + count);
    else into.set(tiles.get(first + tile)!.subarray(start, start + count), from + 1);
  }
  into[0] = into[1];
  into[widthPx + 1] = into[widthPx];
}
