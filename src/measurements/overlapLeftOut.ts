import type { BoxMm } from '../geometry/box.ts';
import { popcount } from '../raster/bitPlane.ts';
import { tilePx } from '../raster/edgeTiles.ts';
import { type GriddedPlane, isSameGrid } from '../raster/griddedPlane.ts';
import { resampledPlane } from '../raster/resampledPlane.ts';
import type { LeftOut } from './overlap.ts';
import { visitBoxSpans } from './overlapSpans.ts';

/**
 * What lies within boxes that are not measured: their area and what both planes print there, counted in the first's
 * pixels, and the length of the first's outlines in the marked tiles (32 × 32 px). An outline along pixel sides is
 * longer than what it stands for, by 4/π for outlines of every direction (Cauchy and Crofton).
 */
export function measureLeftOut(
  own: GriddedPlane,
  other: GriddedPlane,
  boxes: readonly BoxMm[],
  marked: Uint8Array,
): LeftOut {
  if (boxes.length === 0) return { areaMm2: 0, sharedAreaMm2: 0, outlineMm: 0 };
  const { grid, bits } = own;
  const { words, wordsPerRow } = bits;
  const otherWords = (isSameGrid(grid, other.grid) ? other.bits : resampledPlane(other.bits, other.grid, grid)).words;
  let pixels = 0;
  let shared = 0;
  let level = 0;
  let upright = 0;
  visitBoxSpans(grid, boxes, (row, from, end) => {
    pixels += end - from;
    const start = row * wordsPerRow;
    const tileStart = Math.floor(row / tilePx) * wordsPerRow;
    for (let w = from >> 5; w <= (end - 1) >> 5; w++) {
      const mask = maskOf(w, from, end);
      const word = words[start + w];
      shared += popcount(word & otherWords[start + w] & mask);
      if (marked[tileStart + w] === 0) continue;
      const above = row > 0 ? words[start - wordsPerRow + w] : 0;
      const before = w > 0 ? words[start + w - 1] >>> 31 : 0;
      level += popcount((word ^ above) & mask);
      upright += popcount((word ^ ((word << 1) | before)) & mask);
    }
  });
  const pixelMm2 = grid.pitchXMm * grid.pitchYMm;
  return {
    areaMm2: pixels * pixelMm2,
    sharedAreaMm2: shared * pixelMm2,
    outlineMm: (Math.PI / 4) * (level * grid.pitchXMm + upright * grid.pitchYMm),
  };
}

/** The bits of a word whose columns lie from `from` to before `end`. */
function maskOf(w: number, from: number, end: number): number {
  const low = Math.max(0, from - 32 * w);
  const high = Math.min(32, end - 32 * w);
  return (high === 32 ? -1 : (1 << high) - 1) & (-1 << low);
}
