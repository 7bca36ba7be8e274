import type { CellMap, CellTurns } from './halftoneCells.ts';
import { alwaysPatternLpi } from './halftonePatterns.ts';

/** What each cell of a map puts on the frequency across the lines. */
export type LineTurns = Pick<CellTurns, 'realU' | 'imaginaryU'>;

export interface LinesOfPart {
  /** Cells through which no edge of the part runs. */
  readonly whole: Int32Array;
  /** Mean tone, 0 … 1, around each of those. */
  readonly smoothed: Float32Array;
}

/** Lines drawn by hand reach this now and then; less is no screen's, whichever its pixels. */
const leastSteadiness = 0.9;
/** Cells cut by edges between two tones take so much from the lines of a screen. */
const takenByEdges = 0.035;
/**
 * Pixels put each line up to half a pixel off: lines half a pixel nearer and further by turns lack 2π² · 0.5² of their
 * steadiness, divided by the square of the pixels from line to line. That holds for all but the pairs cut by edges.
 */
const takenByPixels = 5;
/** Nor are lines many pixels wide more even than that, as few of them fit on a film. */
const leastTaken = 0.008;
/** Films fed through a printer are as uneven as that, however fine the pixels of their scans. */
const feedStepMm = 0.04;
const shareOfSteadiest = 0.8;
/**
 * Over a few lines hatching lies evenly now and then: so many pairs of neighbours tell, of all parts together. Lines that
 * are artwork anyway, as they lie far apart, need not be as many.
 */
const fewestPairs = 8;
/** Lines of contours come nearer to each other bit by bit: from one line to the fourth beyond it shows. */
const furtherLines = 4;
/** Parts that stand alone among others that are no screen's are that much steadier, and that large. */
const loneSteadiness = 0.97;
const loneCells = 200;
const lonePairs = 7;
/** Lines or gaps finer than this come out uneven by any screen. */
const finestTellingPx = 1;
/** Cells along a line that are looked at together. */
const alongCells = 7;

/**
 * Which parts of a plate have lines set by a screen: as far from each other as the ruling says. The parts of one set of
 * lines are judged together too, as by chance some of a page of hatching lie evenly.
 */
export function partsSetByScreen(
  map: CellMap,
  lines: LineTurns,
  parts: readonly LinesOfPart[],
  pixelsPerCell: number,
): boolean[] {
  const each = parts.map(({ whole, smoothed }) => {
    const mean = whole.reduce((sum, cell) => sum + smoothed[cell], 0) / whole.length;
    const tells = Math.min(mean, 1 - mean) * pixelsPerCell >= finestTellingPx;
    return { tells, cells: whole.length * map.join ** 2, ...neighboursIn(map, lines, whole) };
  });
  const lineMm = map.cellMm / map.join;
  const stepsPerLine = lineMm / Math.max(feedStepMm, lineMm / pixelsPerCell);
  const telling = each.filter(({ tells }) => tells);
  const together = telling.flatMap(({ neighbours }) => neighbours);
  const further = telling.flatMap((part) => part.further);
  const pairsInAll = telling.reduce((sum, part) => sum + part.pairs, 0);
  const areSteady =
    telling.length === 0 ||
    ((pairsInAll >= fewestPairs || lineMm > 25.4 / alwaysPatternLpi) &&
      isSteady(together, stepsPerLine) &&
      (further.length === 0 || isSteady(further, stepsPerLine)));
  return each.map(({ tells, cells, pairs, neighbours }) => {
    if (areSteady) return !tells || neighbours.length === 0 || steadinessOf(neighbours) >= leastSteadiness;
    const isLarge = cells >= loneCells && pairs >= lonePairs;
    return tells && isLarge && isSteady(neighbours, stepsPerLine, loneSteadiness);
  });
}

/** Two stretches of neighbouring lines: the cosine of what they are off from each other, in turns of the ruling. */
interface Neighbours {
  readonly even: number;
  readonly weight: number;
}

function isSteady(neighbours: readonly Neighbours[], stepsPerLine: number, least = leastSteadiness): boolean {
  const byPixels = Math.max(leastTaken, takenByPixels / stepsPerLine ** 2);
  if (steadinessOf(neighbours) < Math.max(least, 1 - byPixels - takenByEdges)) return false;
  return steadinessOf(steadiestOf(neighbours)) >= 1 - byPixels;
}

function steadinessOf(neighbours: readonly Neighbours[]): number {
  let sum = 0;
  let total = 0;
  for (const { even, weight } of neighbours) {
    sum += even * weight;
    total += weight;
  }
  return total === 0 ? 0 : sum / total;
}

function steadiestOf(neighbours: readonly Neighbours[]): Neighbours[] {
  const ordered = [...neighbours].sort((a, b) => b.even - a.even);
  let left = shareOfSteadiest * neighbours.reduce((sum, { weight }) => sum + weight, 0);
  return ordered.filter(({ weight }) => {
    const isKept = left > 0;
    left -= weight;
    return isKept;
  });
}

/** The neighbouring lines of a part, stretch by stretch, those further apart, and how many pairs of lines it is broad. */
function neighboursIn(
  { columns, rows }: CellMap,
  { realU, imaginaryU }: LineTurns,
  whole: Int32Array,
): { neighbours: Neighbours[]; further: Neighbours[]; pairs: number } {
  const isWhole = new Uint8Array(realU.length);
  for (const cell of whole) isWhole[cell] = 1;
  const neighbours: Neighbours[] = [];
  const further: Neighbours[] = [];
  const compare = (cell: number, apart: number, into: Neighbours[]): boolean => {
    let [hereReal, hereImaginary, thereReal, thereImaginary] = [0, 0, 0, 0];
    for (let at = cell; at < cell + alongCells * columns; at += columns) {
      if (isWhole[at] === 0 || isWhole[at + apart] === 0) return false;
      hereReal += realU[at];
      hereImaginary += imaginaryU[at];
      thereReal += realU[at + apart];
      thereImaginary += imaginaryU[at + apart];
    }
    const weight = Math.hypot(hereReal, hereImaginary) * Math.hypot(thereReal, thereImaginary);
    if (weight === 0) return false;
    into.push({ even: (hereReal * thereReal + hereImaginary * thereImaginary) / weight, weight });
    return true;
  };
  let [first, last] = [columns, 0];
  for (const cell of whole) {
    const column = cell % columns;
    const row = (cell - column) / columns;
    if (row % alongCells !== 0 || column + 1 >= columns || row + alongCells > rows) continue;
    if (!compare(cell, 1, neighbours)) continue;
    if (column + furtherLines < columns) compare(cell, furtherLines, further);
    first = Math.min(first, column);
    last = Math.max(last, column + 1);
  }
  return { neighbours, further, pairs: Math.max(0, last - first) };
}
