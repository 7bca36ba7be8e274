import type { CellMap, CellTurns } from './halftoneCells.ts';

/** What each cell of a map puts on the frequency across the lines. */
export type LineTurns = Pick<CellTurns, 'realU' | 'imaginaryU'>;

export interface LinesOfPart {
  /** Cells through which no edge of the part runs. */
  readonly whole: Int32Array;
  /** Mean tone, 0 … 1, around each of those. */
  readonly smoothed: Float32Array;
}

/** Lines set by a screen reach 0.95, hatching drawn by hand 0.85. */
const leastSteadiness = 0.9;
/** Over a few lines now and then hatching reaches more: parts that stand alone are that much steadier, and that large. */
const loneSteadiness = 0.95;
const loneCells = 200;
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
    return { tells, cells: whole.length * map.join ** 2, ...steadinessOfLines(map, lines, whole) };
  });
  const telling = each.filter(({ tells }) => tells);
  const all = quotient(
    telling.reduce((sum, { even }) => sum + even, 0),
    telling.reduce((sum, { weight }) => sum + weight, 0),
  );
  const areSteady = telling.length === 0 || all >= leastSteadiness;
  return each.map(({ tells, cells, even, weight }) => {
    if (!tells) return areSteady;
    const own = quotient(even, weight);
    return areSteady ? own >= leastSteadiness : own >= loneSteadiness && cells >= loneCells;
  });
}

function quotient(sum: number, weight: number): number {
  return weight === 0 ? 0 : sum / weight;
}

/**
 * How evenly the lines of a part lie: cosines of what two neighbouring lines are off from each other, in turns of the
 * ruling, by their weights, and those weights. Pixels leave 0.92 of it at 6 pixels a line along the rows.
 */
function steadinessOfLines(
  { columns, rows }: CellMap,
  { realU, imaginaryU }: LineTurns,
  whole: Int32Array,
): { even: number; weight: number } {
  const isWhole = new Uint8Array(realU.length);
  for (const cell of whole) isWhole[cell] = 1;
  let even = 0;
  let total = 0;
  for (const cell of whole) {
    const column = cell % columns;
    const row = (cell - column) / columns;
    if (row % alongCells !== 0 || column + 1 >= columns || row + alongCells > rows) continue;
    let [hereReal, hereImaginary, nextReal, nextImaginary] = [0, 0, 0, 0];
    let isSeen = true;
    for (let at = cell; at < cell + alongCells * columns && isSeen; at += columns) {
      isSeen = isWhole[at] === 1 && isWhole[at + 1] === 1;
      hereReal += realU[at];
      hereImaginary += imaginaryU[at];
      nextReal += realU[at + 1];
      nextImaginary += imaginaryU[at + 1];
    }
    if (!isSeen) continue;
    even += hereReal * nextReal + hereImaginary * nextImaginary;
    total += Math.hypot(hereReal, hereImaginary) * Math.hypot(nextReal, nextImaginary);
  }
  return { even, weight: total };
}
