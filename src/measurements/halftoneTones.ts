import type { BoxMm } from '../geometry/box.ts';
import type { TonePlace } from './halftone.ts';
import { boxOfCells, type CellMap } from './halftoneCells.ts';
import type { LatticePart } from './halftoneMembers.ts';
import { RankedTones } from './halftoneRanks.ts';
import { smoothTones } from './halftoneSmoothing.ts';

const leastPlusMinusPercent = 0.3;
/** Cells of fewer pixels along their side are taken more together. */
const fineCellPx = 10;
const placesKept = 3;
/** The first percentile is the smallest tone told; what is beyond it is an outlier. */
const outlyingShare = 0.01;
/** Further places are sought among so many cells next to it. */
const searchedShare = 0.05;
/** Places are told once within so many cells. */
const placesApartCells = 12;

/** Tones of a part of a plate, over its whole cells. */
export interface PartTones {
  readonly toneMinPercent: number | null;
  readonly toneMaxPercent: number | null;
  /** How far single cells lie from the tones around them: standard deviation. */
  readonly scatterPercent: number;
  readonly plusMinusPercent: number;
  readonly areaMm2: number;
  readonly areaByToneMm2: readonly number[];
  readonly lightest: readonly TonePlace[];
  readonly darkest: readonly TonePlace[];
  /** Mean tone, 0 … 1, around each of the part's whole cells. */
  readonly smoothed: Float32Array;
}

/**
 * The tones of a part: each that of a square of whole cells.
 * @param smoothed one of these serves all parts of a map, as none has a cell of another
 */
export function tonesOf(
  map: CellMap,
  { cells: part, whole, telling }: LatticePart,
  pixelsPerCell: number,
  smoothed: Float32Array,
): PartTones {
  const cellArea = map.cellMm ** 2;
  const isWhole = new Uint8Array(map.counts.length);
  for (let k = 0; k < whole.length; k++) isWhole[whole[k]] = 1;
  const areaMm2 = cellArea * (whole.length + cutCells(map, part, isWhole));
  const spread = pixelsPerCell * map.join >= fineCellPx ? 5 : 7;
  const reach = (spread - 1) / 2;
  smoothTones(map, whole, isWhole, spread, smoothed);
  const ranks = new RankedTones(whole, smoothed, outlyingShare + searchedShare);
  const cellsByTone = new Uint32Array(101);
  for (let k = 0; k < whole.length; k++) cellsByTone[Math.round(100 * smoothed[whole[k]])]++;
  const areaByToneMm2 = Array.from(cellsByTone, (cells) => (cells * areaMm2) / Math.max(1, whole.length));
  const percentile = (share: number) => {
    const cell = ranks.cellAt(Math.min(whole.length - 1, Math.floor(share * whole.length)));
    return cell === null ? null : 100 * smoothed[cell];
  };
  const scatterPercent = scatterOf(map, telling, smoothed);
  return {
    toneMinPercent: percentile(outlyingShare),
    toneMaxPercent: percentile(1 - outlyingShare),
    scatterPercent,
    // Twice that, less by the cells of a mean.
    plusMinusPercent: Math.max(leastPlusMinusPercent, (2 * scatterPercent) / spread),
    areaMm2,
    areaByToneMm2,
    lightest: placesOf(map, ranks.lightest, whole.length, smoothed, reach),
    darkest: placesOf(map, ranks.darkest, whole.length, smoothed, reach),
    smoothed,
  };
}

/** How many cells those make up together that edges run through: each by its ink and that of whole cells near it. */
function cutCells(map: CellMap, part: Int32Array, isWhole: Uint8Array): number {
  const { columns, rows, counts, ink } = map;
  let cells = 0;
  for (let k = 0; k < part.length; k++) {
    const cell = part[k];
    if (isWhole[cell] === 1) continue;
    const column = cell % columns;
    const row = (cell - column) / columns;
    let sum = 0;
    let total = 0;
    for (let r = Math.max(0, row - 2); r <= Math.min(rows - 1, row + 2); r++) {
      for (let c = Math.max(0, column - 2); c <= Math.min(columns - 1, column + 2); c++) {
        if (isWhole[r * columns + c] === 0) continue;
        sum += ink[r * columns + c];
        total += counts[r * columns + c];
      }
    }
    cells += sum === 0 ? 0.5 : Math.min(1, (ink[cell] * total) / (counts[cell] * sum));
  }
  return cells;
}

function scatterOf(map: CellMap, cells: Int32Array, smoothed: Float32Array): number {
  let sum = 0;
  for (let k = 0; k < cells.length; k++) {
    const cell = cells[k];
    sum += (map.ink[cell] / map.counts[cell] - smoothed[cell]) ** 2;
  }
  return cells.length === 0 ? 0 : 100 * Math.sqrt(sum / cells.length);
}

/** @param ordered of so many cells the outermost, from the outermost on */
function placesOf(
  map: CellMap,
  ordered: Int32Array,
  cells: number,
  smoothed: Float32Array,
  reach: number,
): TonePlace[] {
  const taken: number[] = [];
  const apart = Math.max(1, placesApartCells / map.join);
  const from = Math.floor(outlyingShare * cells);
  for (let k = from; k < ordered.length && taken.length < placesKept; k++) {
    if (k > from + searchedShare * cells && taken.length > 0) break;
    const column = ordered[k] % map.columns;
    const row = (ordered[k] - column) / map.columns;
    const isNear = taken.some((other) => {
      const otherColumn = other % map.columns;
      return Math.hypot(otherColumn - column, (other - otherColumn) / map.columns - row) < apart;
    });
    if (!isNear) taken.push(ordered[k]);
  }
  return taken.map((cell) => {
    const column = cell % map.columns;
    const row = (cell - column) / map.columns;
    const boxMm: BoxMm = boxOfCells(map, column - reach, row - reach, column + reach + 1, row + reach + 1);
    return { boxMm, tonePercent: 100 * smoothed[cell] };
  });
}
