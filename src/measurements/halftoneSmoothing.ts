import { boxSums } from '../raster/boxSums.ts';
import type { CellMap } from './halftoneCells.ts';
import { extentOf } from './halftoneDrift.ts';

/** A slope is one when it is so many times its own error. */
const clearSlope = 4;
/** Cells with this share of what a square of whole cells weighs lie well within a part. */
const nearlyAll = 0.97;

/**
 * Sets the mean tone, 0 … 1, around each of a part's whole cells, which are in order and flagged too. Cells near weigh
 * more, falling off in a straight line over `spread` cells: what pixels on the border of two cells are given to one of
 * them wrongly then hardly tells. At the edge of a part a plane is laid through the tones where they rise or fall, so
 * that the mean does not lag behind.
 */
export function smoothTones(
  map: CellMap,
  whole: Int32Array,
  isWhole: Uint8Array,
  spread: number,
  smoothed: Float32Array,
): void {
  if (whole.length === 0) return;
  const { columns, counts, ink } = map;
  const reach = (spread - 1) / 2;
  const [left, top, right, bottom] = extentOf(whole, columns);
  const wide = right - left + 1;
  const high = bottom - top + 1;
  const countSums = new Float32Array(wide * high);
  const inkSums = new Float32Array(wide * high);
  const first = top * columns + left;
  for (let row = 0; row < high; row++) {
    for (let column = 0; column < wide; column++) {
      const cell = first + row * columns + column;
      countSums[row * wide + column] = isWhole[cell] === 1 ? counts[cell] : 0;
      inkSums[row * wide + column] = isWhole[cell] === 1 ? ink[cell] : 0;
    }
  }
  for (const sums of [countSums, inkSums]) boxSums(sums, wide, high, reach, sums, null, 2);
  let most = 0;
  for (let at = 0; at < countSums.length; at++) if (countSums[at] > most) most = countSums[at];
  for (let row = 0; row < high; row++) {
    for (let column = 0; column < wide; column++) {
      const cell = first + row * columns + column;
      if (isWhole[cell] === 0) continue;
      const at = row * wide + column;
      const mean = inkSums[at] / countSums[at];
      const value = countSums[at] >= nearlyAll * most ? mean : mean + leanAt(map, isWhole, cell, spread, mean);
      smoothed[cell] = Math.min(1, Math.max(0, value));
    }
  }
}

/** By how much a plane through the tones around a cell differs, at the cell, from their mean; 0 where they do not lean. */
function leanAt(
  { columns, rows, counts, ink }: CellMap,
  isWhole: Uint8Array,
  cell: number,
  spread: number,
  mean: number,
): number {
  const column = cell % columns;
  const row = (cell - column) / columns;
  let [n, x, y, xx, xy, yy, xt, yt, tt, squares] = [0, 0, 0, 0, 0, 0, 0, 0, 0, 0];
  for (let dr = 1 - spread; dr < spread; dr++) {
    if (row + dr < 0 || row + dr >= rows) continue;
    for (let dc = 1 - spread; dc < spread; dc++) {
      if (column + dc < 0 || column + dc >= columns) continue;
      const at = cell + dr * columns + dc;
      if (isWhole[at] === 0) continue;
      const count = counts[at];
      const weight = count * (spread - Math.abs(dr)) * (spread - Math.abs(dc));
      const tone = ink[at] / count - mean;
      n += weight;
      x += weight * dc;
      y += weight * dr;
      xx += weight * dc * dc;
      xy += weight * dc * dr;
      yy += weight * dr * dr;
      xt += weight * dc * tone;
      yt += weight * dr * tone;
      tt += weight * tone * tone;
      squares += weight * weight;
    }
  }
  x /= n;
  y /= n;
  const cxx = xx / n - x * x;
  const cxy = xy / n - x * y;
  const cyy = yy / n - y * y;
  const determinant = cxx * cyy - cxy * cxy;
  if (determinant < 0.2) return 0;
  const cxt = xt / n;
  const cyt = yt / n;
  const slopeX = (cyy * cxt - cxy * cyt) / determinant;
  const slopeY = (cxx * cyt - cxy * cxt) / determinant;
  const explained = slopeX * cxt + slopeY * cyt;
  const left = Math.max(0, tt / n - explained);
  // Cells as many as weigh alike would.
  const cells = (n * n) / squares;
  if (explained * cells < clearSlope ** 2 * left) return 0;
  return -(slopeX * x + slopeY * y);
}
