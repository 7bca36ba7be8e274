import type { CellMap } from './halftoneCells.ts';
import type { Lattice } from './halftoneLattice.ts';
import { fieldReach, type LatticeField } from './halftoneMembers.ts';

/** Parts are divided so often each way to see how far they agree. */
const divisions = 4;
/** What is left of a lattice's own error where hundreds of dots were looked at, as a share of its ruling. */
const leastError = 0.0002;

export interface FittedLattice extends Lattice {
  /** Standard errors, doubled, of the frequency along itself and across, as shares of it. */
  readonly rulingError: number;
  readonly angleErrorRad: number;
}

/**
 * Corrects a lattice by how the phase of its dots drifts over a part that follows it: the phases of squares of cells are
 * compared with those of squares further on, first near, then far.
 * @param field of whole cells only, as what is cut by an edge has no phase
 * @param part its telling cells
 */
export function fitLattice(map: CellMap, field: LatticeField, part: Int32Array): FittedLattice {
  const belongs = new Uint8Array(map.counts.length);
  for (let k = 0; k < part.length; k++) belongs[part[k]] = 1;
  let along = 0;
  let across = 0;
  let error = { along: leastError, across: leastError };
  for (const step of [2 * fieldReach + 1, 4 * (2 * fieldReach + 1)]) {
    const drift = driftOver(map, field, part, belongs, step, along, across);
    if (drift === null) break;
    along += drift.along;
    across += drift.across;
    error = { along: drift.alongError, across: drift.acrossError };
  }
  // Drift in turns a cell, along u and along v, is a share of the frequency.
  const { fx, fy, isLines } = map.lattice;
  return {
    fx: fx * (1 + along) - fy * across,
    fy: fy * (1 + along) + fx * across,
    isLines,
    rulingError: Math.max(leastError, error.along),
    angleErrorRad: Math.max(leastError, error.across),
  };
}

interface Drift {
  readonly along: number;
  readonly across: number;
  readonly alongError: number;
  readonly acrossError: number;
}

function driftOver(
  map: CellMap,
  field: LatticeField,
  part: Int32Array,
  belongs: Uint8Array,
  step: number,
  along: number,
  across: number,
): Drift | null {
  const { columns, rows, join, lattice } = map;
  const groups = divisions * divisions;
  // Of the frequency along u by steps along u and v, and of that along v.
  const sums = Array.from({ length: 4 }, () => new Float64Array(2 * groups));
  const [left, top, right, bottom] = extentOf(part, columns);
  let pairs = 0;
  for (let k = 0; k < part.length; k++) {
    const cell = part[k];
    const row = Math.floor(cell / columns);
    const column = cell - row * columns;
    const group =
      Math.min(divisions - 1, Math.floor((divisions * (row - top)) / (bottom - top + 1))) * divisions +
      Math.min(divisions - 1, Math.floor((divisions * (column - left)) / (right - left + 1)));
    if (column + step < columns && belongs[cell + step] === 1) {
      addTurn(sums[0], group, field.realU, field.imaginaryU, cell, cell + step);
      if (!lattice.isLines) addTurn(sums[2], group, field.realV, field.imaginaryV, cell, cell + step);
      pairs++;
    }
    if (row + step < rows && belongs[cell + step * columns] === 1) {
      addTurn(sums[1], group, field.realU, field.imaginaryU, cell, cell + step * columns);
      if (!lattice.isLines) addTurn(sums[3], group, field.realV, field.imaginaryV, cell, cell + step * columns);
      pairs++;
    }
  }
  if (pairs < 20) return null;
  // What is known of the drift already is taken off: along of u by u and of v by v, across of u by v and of v by -u.
  const known = [along, across, -across, along].map((drift) => drift * step * join);
  const whole = sums.map((sum, k) => turnOf(sum, 0, groups, known[k]));
  const parts = Array.from({ length: groups }, (_, group) =>
    sums.map((sum, k) => turnOf(sum, group, group + 1, known[k])),
  );
  const reading = ([uu, uv, vu, vv]: readonly Turn[]) => ({
    along: meanTurn([uu, vv], [1, 1]) / (step * join),
    across: meanTurn([uv, vu], [1, -1]) / (step * join),
  });
  const all = reading(whole);
  const each = parts.filter((turns) => turns[0].weight + turns[1].weight > 0).map(reading);
  const error = (pick: (one: { along: number; across: number }) => number) => {
    if (each.length < 3) return leastError;
    const mean = each.reduce((sum, one) => sum + pick(one), 0) / each.length;
    const variance = each.reduce((sum, one) => sum + (pick(one) - mean) ** 2, 0) / (each.length - 1);
    return 2 * Math.sqrt(variance / each.length);
  };
  return { ...all, alongError: error((one) => one.along), acrossError: error((one) => one.across) };
}

interface Turn {
  readonly turns: number;
  readonly weight: number;
}

function meanTurn(turns: readonly Turn[], signs: readonly number[]): number {
  let sum = 0;
  let total = 0;
  for (const [k, { turns: value, weight }] of turns.entries()) {
    sum += signs[k] * value * weight;
    total += weight;
  }
  return total === 0 ? 0 : sum / total;
}

function addTurn(
  sums: Float64Array,
  group: number,
  real: Float32Array,
  imaginary: Float32Array,
  from: number,
  to: number,
): void {
  sums[2 * group] += real[to] * real[from] + imaginary[to] * imaginary[from];
  sums[2 * group + 1] += imaginary[to] * real[from] - real[to] * imaginary[from];
}

function turnOf(sums: Float64Array, from: number, to: number, known: number): Turn {
  let real = 0;
  let imaginary = 0;
  for (let group = from; group < to; group++) {
    real += sums[2 * group];
    imaginary += sums[2 * group + 1];
  }
  const angle = Math.atan2(imaginary, real) / (2 * Math.PI) - known;
  return { turns: angle - Math.round(angle), weight: Math.hypot(real, imaginary) };
}

/** First and last column and row of cells in order. */
export function extentOf(part: Int32Array, columns: number): [number, number, number, number] {
  let [left, right] = [Infinity, 0];
  const rowOf = (cell: number) => Math.floor(cell / columns);
  let [rowStart, rowEnd] = [0, 0];
  for (let k = 0; k < part.length; k++) {
    const cell = part[k];
    if (cell >= rowEnd) {
      rowStart = rowOf(cell) * columns;
      rowEnd = rowStart + columns;
    }
    if (cell - rowStart < left) left = cell - rowStart;
    if (cell - rowStart > right) right = cell - rowStart;
  }
  return [left, rowOf(part[0]), right, rowOf(part[part.length - 1])];
}
