import { boxSums } from '../raster/boxSums.ts';
import type { CellMap } from './halftoneCells.ts';
import { extentOf } from './halftoneDrift.ts';

/** A slope is one when it is so many times its own error. */
const clearSlope = 4;
/** Cells with this share of what a square of whole cells weighs lie well within a part. */
const nearlyAll = 0.97;
/** Squares at the edge of a part, of which half is bare, are so many times as wide. */
const widerAtEdge = 2;
/**
 * Pixels and dots beat, and a beat leans over a few cells: at the edge a lean is one where the tones around differ from
 * those further around by so many times what they do within the part.
 */
const clearDifference = 4;
/** Up to the first of these tones dots leave the borders of their cells clear; from the second on they meet there. */
const clearUpTo = 0.35;
const meetFrom = 0.55;
/** Cells lose and gain no more samples at their borders, as a share; beyond, they are cut. */
const mostAtBorders = 0.15;
const fewestWithin = 20;
const mostWithin = 4000;

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
  const reach = (spread - 1) / 2;
  const cells = cellsIn(map, whole, isWhole);
  const { wide, high, first } = cells;
  const near = aroundEach(cells, reach);
  const around = aroundEach(cells, widerAtEdge * reach);
  let most = 0;
  for (let at = 0; at < near.counts.length; at++) if (near.counts[at] > most) most = near.counts[at];
  const ofWider = ((2 * widerAtEdge * reach + 1) / spread) ** 4;
  const within = differenceWithin(map, near, around, nearlyAll * most * ofWider);
  for (let row = 0; row < high; row++) {
    for (let column = 0; column < wide; column++) {
      const cell = first + row * map.columns + column;
      if (isWhole[cell] === 0) continue;
      const at = row * wide + column;
      let value = toneOf(map, near, at);
      if (near.counts[at] < nearlyAll * most) {
        const further = toneOf(map, around, at);
        const isClear = Math.abs(value - further) > clearDifference * within;
        const lean = isClear ? leanAt(map, isWhole, cell, spread, value) : 0;
        value = lean === 0 ? further : value + lean;
      }
      smoothed[cell] = Math.min(1, Math.max(0, value));
    }
  }
}

/** Samples and their tones added up, by the cells of a rectangle of a map; 0 for those that do not count. */
interface CellSums {
  readonly wide: number;
  readonly high: number;
  /** Cell of the map in the first column and row. */
  readonly first: number;
  readonly cells: Float32Array;
  readonly counts: Float32Array;
  readonly ink: Float32Array;
}

function cellsIn({ columns, counts, ink }: CellMap, whole: Int32Array, isWhole: Uint8Array): CellSums {
  const [left, top, right, bottom] = extentOf(whole, columns);
  const wide = right - left + 1;
  const high = bottom - top + 1;
  const first = top * columns + left;
  const none = () => new Float32Array(wide * high);
  const sums = { wide, high, first, cells: none(), counts: none(), ink: none() };
  for (let row = 0; row < high; row++) {
    for (let column = 0; column < wide; column++) {
      const cell = first + row * columns + column;
      if (isWhole[cell] === 0) continue;
      sums.cells[row * wide + column] = 1;
      sums.counts[row * wide + column] = counts[cell];
      sums.ink[row * wide + column] = ink[cell];
    }
  }
  return sums;
}

function aroundEach(cells: CellSums, reach: number): CellSums {
  const { wide, high } = cells;
  const sumsOf = (values: Float32Array) => boxSums(values, wide, high, reach, new Float32Array(values.length), null, 2);
  return { ...cells, cells: sumsOf(cells.cells), counts: sumsOf(cells.counts), ink: sumsOf(cells.ink) };
}

/**
 * The tone of summed cells. Samples on borders fall into one cell or another, so that a square of cells has a few too many
 * or too few: those are taken for what lies on borders, clear film between light dots.
 */
function toneOf({ lattice, meanCount }: CellMap, { cells, counts, ink }: CellSums, at: number): number {
  const tone = ink[at] / counts[at];
  const tooMany = counts[at] / (meanCount * cells[at]) - 1;
  if (Math.abs(tooMany) > mostAtBorders) return tone;
  // Lines run across two of the four borders.
  const met = lattice.isLines ? 0.5 : Math.min(1, Math.max(0, (tone - clearUpTo) / (meetFrom - clearUpTo)));
  return tone + tooMany * tone * (1 - met);
}

/** By how much the tones around a cell differ from those further around well within a part; 0 in parts too small. */
function differenceWithin(map: CellMap, near: CellSums, around: CellSums, least: number): number {
  const { counts } = around;
  const differences: number[] = [];
  const step = Math.max(1, Math.floor(counts.length / mostWithin));
  for (let at = 0; at < counts.length; at += step) {
    if (counts[at] >= least) differences.push(Math.abs(toneOf(map, near, at) - toneOf(map, around, at)));
  }
  if (differences.length < fewestWithin) return 0;
  // The median of absolute values of a normal distribution is 0.674 of its standard deviation.
  return differences.sort((a, b) => a - b)[differences.length >> 1] / 0.674;
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
