import type { PointMm } from '../geometry/box.ts';
import type { CrossedLine } from './registrationEdges.ts';
import { type Fit, rotationDegOf, scaleOf } from './registrationFit.ts';

/** The outlines of a plate along level and upright lines. */
export interface Outlines {
  readonly level: readonly CrossedLine[];
  readonly upright: readonly CrossedLine[];
  readonly pitchMm: number;
  /** How far apart the lines lie. */
  readonly everyMm: number;
}

/** How the art of one plate lies to that of another. */
export interface FittedArt {
  readonly fit: Fit;
  readonly middle: PointMm;
  readonly edges: number;
  readonly scatterMm: number;
  readonly rotationDeg: number;
  readonly scale: number;
  readonly plusMinusMm: number;
}

/** An outline of one plate met by one of the other along a line. */
interface Match {
  readonly xMm: number;
  readonly yMm: number;
  readonly offMm: number;
  readonly lean: number;
  readonly isUpright: boolean;
  readonly turn: number;
  /** Ink of one ends where that of the other begins; else both begin or end alike. */
  readonly isFacing: boolean;
}

/** Facing outlines are sought no further apart. */
const bandMm = 1.2;
const sameLean = 0.15;
/** How far an outline may lie from the fit, turn by turn. */
const slacksMm = [0.8, 0.5, 0.3, 0.2, 0.12, 0.08, 0.06];
const fewestEdges = 60;
const fewestEachWay = 20;
/** Outlines that meet by chance agree this share of the time; those of one drawing several times as often. */
const chanceTimes = 4;
const unknowns = 6;

/**
 * Fits shift, turn and scale to the places where outlines of two plates run alike within 1.2 mm of each other, with one
 * spread or choke for facing and one for like outlines. Edges that do not agree are left out step by step (weights of
 * Tukey's biweight, Beaton and Tukey, Technometrics 16, 1974). Null when too few agree, or no more than by chance.
 */
export function fitArt(from: Outlines, to: Outlines): FittedArt | null {
  const matches = [
    ...matchesOf(from.level, to.level, from.everyMm, false),
    ...matchesOf(from.upright, to.upright, from.everyMm, true),
  ];
  if (matches.length < fewestEdges) return null;
  const middle = {
    xMm: matches.reduce((sum, { xMm }) => sum + xMm, 0) / matches.length,
    yMm: matches.reduce((sum, { yMm }) => sum + yMm, 0) / matches.length,
  };
  const rows = rowsOf(matches, middle);
  let solution: number[] = new Array(unknowns).fill(0);
  for (const slackMm of slacksMm) {
    for (let turn = 0; turn < 3; turn++) {
      const solved = solveWeighted(rows, matches, solution, slackMm);
      if (solved === null) return null;
      solution = solved;
    }
  }
  const last = slacksMm[slacksMm.length - 1];
  let [count, upright, squares] = [0, 0, 0];
  matches.forEach((match, i) => {
    const left = leftOf(rows, i, match, solution);
    if (Math.abs(left) > last) return;
    count++;
    if (match.isUpright) upright++;
    squares += left * left;
  });
  const byChance = (matches.length * last) / bandMm;
  if (count < Math.max(fewestEdges, chanceTimes * byChance)) return null;
  if (Math.min(upright, count - upright) < fewestEachWay) return null;
  const [e, f, turned, grown] = solution;
  const fit: Fit = {
    model: 'similarity',
    a: 1 + grown,
    b: turned,
    c: -turned,
    d: 1 + grown,
    e: e - grown * middle.xMm + turned * middle.yMm,
    f: f - turned * middle.xMm - grown * middle.yMm,
  };
  const scatterMm = Math.sqrt(squares / count);
  return {
    fit,
    middle,
    edges: count,
    scatterMm,
    rotationDeg: rotationDegOf(fit),
    scale: scaleOf(fit),
    plusMinusMm:
      0.5 * Math.max(from.pitchMm, to.pitchMm) + (3 * scatterMm) / Math.sqrt(Math.min(upright, count - upright)),
  };
}

function matchesOf(
  from: readonly CrossedLine[],
  to: readonly CrossedLine[],
  everyMm: number,
  isUpright: boolean,
): Match[] {
  const matches: Match[] = [];
  for (let k = 0; k < Math.min(from.length, to.length); k++) {
    const [a, b] = [from[k], to[k]];
    let first = 0;
    for (let i = 0; i < a.atMm.length; i++) {
      while (first < b.atMm.length && b.atMm[first] < a.atMm[i] - bandMm) first++;
      for (let j = first; j < b.atMm.length && b.atMm[j] <= a.atMm[i] + bandMm; j++) {
        if (Math.abs(a.leans[i] - b.leans[j]) > sameLean) continue;
        const crossMm = (k + 1) * everyMm;
        matches.push({
          xMm: isUpright ? crossMm : a.atMm[i],
          yMm: isUpright ? a.atMm[i] : crossMm,
          offMm: b.atMm[j] - a.atMm[i],
          lean: a.leans[i],
          isUpright,
          turn: a.turns[i],
          isFacing: a.turns[i] !== b.turns[j],
        });
      }
    }
  }
  return matches;
}

/**
 * What each unknown (shift right and down, turn, growth, spread of facing and of like outlines) adds to how far apart
 * two outlines lie along their line: a shift along it, less the lean times a shift across it. Six numbers a match.
 */
function rowsOf(matches: readonly Match[], middle: PointMm): Float64Array {
  const rows = new Float64Array(unknowns * matches.length);
  matches.forEach(({ xMm, yMm, lean, isUpright, turn, isFacing }, n) => {
    const x = xMm - middle.xMm;
    const y = yMm - middle.yMm;
    const spread = turn * Math.hypot(1, lean);
    const right = isUpright ? -lean : 1;
    const down = isUpright ? 1 : -lean;
    const at = unknowns * n;
    rows[at] = right;
    rows[at + 1] = down;
    rows[at + 2] = -right * y + down * x;
    rows[at + 3] = right * x + down * y;
    rows[at + (isFacing ? 4 : 5)] = spread;
  });
  return rows;
}

function leftOf(rows: Float64Array, n: number, match: Match, solution: readonly number[]): number {
  let sum = 0;
  for (let i = 0, at = unknowns * n; i < unknowns; i++, at++) sum += rows[at] * solution[i];
  return (match.offMm - sum) / Math.hypot(1, match.lean);
}

function solveWeighted(
  rows: Float64Array,
  matches: readonly Match[],
  from: readonly number[],
  slackMm: number,
): number[] | null {
  // The upper half: the system is symmetric.
  const sums = new Float64Array(unknowns * (unknowns + 1));
  for (let n = 0; n < matches.length; n++) {
    const left = leftOf(rows, n, matches[n], from) / slackMm;
    if (Math.abs(left) >= 1) continue;
    const weight = (1 - left * left) ** 2;
    const at = unknowns * n;
    for (let i = 0; i < unknowns; i++) {
      const weighted = weight * rows[at + i];
      if (weighted === 0) continue;
      const to = i * (unknowns + 1);
      for (let j = i; j < unknowns; j++) sums[to + j] += weighted * rows[at + j];
      sums[to + unknowns] += weighted * matches[n].offMm;
    }
  }
  const sumAt = (i: number, j: number) => sums[Math.min(i, j) * (unknowns + 1) + Math.max(i, j)];
  const system = Array.from({ length: unknowns }, (_, i) => [
    ...Array.from({ length: unknowns }, (_, j) => sumAt(i, j)),
    sumAt(i, unknowns),
  ]);
  // A spread that no edge speaks of stays nothing.
  for (let i = 0; i < unknowns; i++) system[i][i] += 1e-6;
  return solved(system);
}

/** Gauss with pivots, in place; null for a system that is singular. */
function solved(system: number[][]): number[] | null {
  const n = system.length;
  for (let i = 0; i < n; i++) {
    let best = i;
    for (let r = i + 1; r < n; r++) if (Math.abs(system[r][i]) > Math.abs(system[best][i])) best = r;
    [system[i], system[best]] = [system[best], system[i]];
    if (Math.abs(system[i][i]) < 1e-12) return null;
    for (let r = 0; r < n; r++) {
      if (r === i) continue;
      const factor = system[r][i] / system[i][i];
      for (let c = i; c <= n; c++) system[r][c] -= factor * system[i][c];
    }
  }
  return system.map((row, i) => row[n] / row[i]);
}
