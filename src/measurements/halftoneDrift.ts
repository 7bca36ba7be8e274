import type { CellMap } from './halftoneCells.ts';
import type { Lattice } from './halftoneLattice.ts';
import { fieldReach, type LatticeField } from './halftoneMembers.ts';

/** Parts are divided so often each way to see how far they agree. */
const divisions = 4;
const groups = divisions * divisions;
const fewestPairs = 20;
const nearStep = 2 * fieldReach + 1;
/** Squares four steps apart differ from what those one step apart have told by no more. */
const mostFurtherTurns = 0.15;
/** Pairs of squares of a tint turn alike to this; where all together do less, there is something else among them. */
const leastCoherence = 0.95;
/** Cosine of the most by which a pair of the tint turns differently. */
const leastAgreement = 0.8;
/** Where less of all turns alike there is no telling which of it is the tint. */
const leastAgreeing = 0.6;
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
  for (const step of [nearStep, 4 * nearStep]) {
    const drift = driftOver(map, field, part, belongs, step, along, across);
    if (drift === null) break;
    // Squares near each other have told within a few hundredths of a turn what those further apart do.
    const isOther = Math.max(Math.abs(drift.along), Math.abs(drift.across)) * step * map.join > mostFurtherTurns;
    if (step > nearStep && isOther) break;
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
  const all = sumPairs(map, field, part, belongs, step, null);
  if (all.pairs < fewestPairs) return null;
  const usual = all.sums.map((sum) => turnOf(sum, 0, groups, 0).turns);
  // Art that touches a tint has phases of its own, which are left out once those of the tint are known.
  const agreeing = all.coherence < leastCoherence ? sumPairs(map, field, part, belongs, step, usual) : all;
  if (agreeing.weight < leastAgreeing * all.weight) return null;
  const { sums } = agreeing;
  const { join } = map;
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
  const together = reading(whole);
  const each = parts.filter((turns) => turns[0].weight + turns[1].weight > 0).map(reading);
  const error = (pick: (one: { along: number; across: number }) => number) => {
    if (each.length < 3) return leastError;
    const mean = each.reduce((sum, one) => sum + pick(one), 0) / each.length;
    const variance = each.reduce((sum, one) => sum + (pick(one) - mean) ** 2, 0) / (each.length - 1);
    return 2 * Math.sqrt(variance / each.length);
  };
  return { ...together, alongError: error((one) => one.along), acrossError: error((one) => one.across) };
}

interface PairSums {
  /** Of the frequency along u by steps along u and v, and of that along v; by groups of the part. */
  readonly sums: readonly Float64Array[];
  readonly pairs: number;
  readonly weight: number;
  /** How much of what the pairs have they have together, 0 … 1. */
  readonly coherence: number;
}

/**
 * Adds up how far phases turn over a step, by where in the part.
 * @param usual only pairs that turn nearly as far, in turns, for each of the four; null: all
 */
function sumPairs(
  { columns, rows, lattice }: CellMap,
  { realU, imaginaryU, realV, imaginaryV }: LatticeField,
  part: Int32Array,
  belongs: Uint8Array,
  step: number,
  usual: readonly number[] | null,
): PairSums {
  const sums = Array.from({ length: 4 }, () => new Float64Array(2 * groups));
  const weights = new Float64Array(4);
  const turned = usual?.map((turns) => [Math.cos(2 * Math.PI * turns), Math.sin(2 * Math.PI * turns)] as const);
  const [left, top, right, bottom] = extentOf(part, columns);
  const add = (k: number, group: number, real: Float32Array, imaginary: Float32Array, from: number, to: number) => {
    const re = real[to] * real[from] + imaginary[to] * imaginary[from];
    const im = imaginary[to] * real[from] - real[to] * imaginary[from];
    const weight = Math.sqrt(re * re + im * im);
    if (turned !== undefined && re * turned[k][0] + im * turned[k][1] < leastAgreement * weight) return;
    sums[k][2 * group] += re;
    sums[k][2 * group + 1] += im;
    weights[k] += weight;
  };
  let pairs = 0;
  for (let k = 0; k < part.length; k++) {
    const cell = part[k];
    const row = Math.floor(cell / columns);
    const column = cell - row * columns;
    const group =
      Math.min(divisions - 1, Math.floor((divisions * (row - top)) / (bottom - top + 1))) * divisions +
      Math.min(divisions - 1, Math.floor((divisions * (column - left)) / (right - left + 1)));
    if (column + step < columns && belongs[cell + step] === 1) {
      add(0, group, realU, imaginaryU, cell, cell + step);
      if (!lattice.isLines) add(2, group, realV, imaginaryV, cell, cell + step);
      pairs++;
    }
    if (row + step < rows && belongs[cell + step * columns] === 1) {
      add(1, group, realU, imaginaryU, cell, cell + step * columns);
      if (!lattice.isLines) add(3, group, realV, imaginaryV, cell, cell + step * columns);
      pairs++;
    }
  }
  const together = sums.reduce((sum, own) => sum + turnOf(own, 0, groups, 0).weight, 0);
  const weight = weights.reduce((sum, own) => sum + own, 0);
  return { sums, pairs, weight, coherence: weight === 0 ? 0 : together / weight };
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
