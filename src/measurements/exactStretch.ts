import type { BoxMm } from '../geometry/box.ts';
import { numberToleranceMm } from './exactArt.ts';
import type { ExactRun, NoWidth } from './exactRun.ts';

/** The stretch a run is part of, as it was found on the pixels. */
export interface StretchOfRun {
  readonly boxMm: BoxMm;
  readonly lengthMm: number;
  /** What is narrower belongs to a point in which the stretch ends. */
  readonly leastMm: number;
  /** The run at a point. */
  readonly look: (xMm: number, yMm: number) => ExactRun | NoWidth;
}

export interface NarrowestWidth {
  readonly widthMm: number;
  readonly plusMinusMm: number;
}

/** A stretch whose width changes by no more is taken as of one width. */
const evenMm = 0.002;
/** In the middle of a stretch no edge is nearer than its sides; near an end one is. */
const leastClearance = 0.95;
const mostSteps = 60;
/** Fewer say nothing of a stretch between sides that part. */
const leastRuns = 4;
/** The shortest step, in widths. */
const shortestStep = 0.3;
/** From one step to the next a stretch turns by no more than the angle of this cosine, 25°. */
const leastAhead = 0.9;
/** A stretch ends where it is this much broader from one step to the next. */
const mostGrowth = 1.3;
/** Round a corner or over a crossing a stretch goes on within so many widths, at one of so many angles to either side. */
const leaps = [1, 1.5, 2.2];
const leapAngles = 9;
const leapAngleRad = Math.PI / 12;

export function isMiddle({ clearanceMm, lengthMm }: ExactRun): boolean {
  return clearanceMm >= (leastClearance * lengthMm) / 2;
}

/** Follows a stretch both ways from a run and answers its narrowest width; null when it cannot be followed. */
export function narrowestOn(run: ExactRun, stretch: StretchOfRun): NarrowestWidth | null {
  const ahead = follow(run, 1, stretch);
  const back = follow(run, -1, stretch);
  if (ahead === null || back === null) return null;
  const runs = [...back.runs.toReversed(), run, ...ahead.runs];
  const widths = runs.map((one) => one.lengthMm);
  const leastMm = Math.min(...widths);
  const toleranceMm = numberToleranceMm + Math.max(...runs.map((one) => one.toleranceMm));
  const spreadMm = Math.max(...widths) - leastMm;
  const isParallel = run.partingRad !== null && run.partingRad * stretch.lengthMm < evenMm;
  if (spreadMm <= evenMm && (isParallel || runs.length >= leastRuns)) {
    return { widthMm: leastMm, plusMinusMm: toleranceMm + spreadMm };
  }
  const at = widths.indexOf(leastMm);
  const before = at === 0 ? back.broader : runs[at - 1];
  const after = at === runs.length - 1 ? ahead.broader : runs[at + 1];
  if (before !== null && after !== null) {
    const narrowest = between(before, runs[at], after, stretch);
    if (narrowest === null) return null;
    return { widthMm: narrowest.lengthMm, plusMinusMm: toleranceMm + (leastMm - narrowest.lengthMm) / 8 };
  }
  if (runs.length < leastRuns) return null;
  // It goes on getting narrower up to its end, which lies within a step and half a width.
  const changeMm = widths[at === 0 ? 1 : at - 1] - leastMm;
  return { widthMm: leastMm, plusMinusMm: toleranceMm + 1.5 * changeMm };
}

interface Followed {
  readonly runs: readonly ExactRun[];
  /** The run beyond the last one, where the stretch becomes broad. */
  readonly broader: ExactRun | null;
}

/**
 * Runs from step to step, until the stretch becomes broad, or ends, or leaves what was found on the pixels; steps that
 * lead off it are taken shorter. Null when something not exactly known is in the way.
 */
function follow(start: ExactRun, sense: 1 | -1, stretch: StretchOfRun): Followed | null {
  const runs: ExactRun[] = [];
  let broader: ExactRun | null = null;
  let last = start;
  let stepMm = Math.max(start.lengthMm, stretch.lengthMm / mostSteps);
  let wayMm = 0;
  let [alongX, alongY] = [-sense * start.dy, sense * start.dx];
  for (let step = 0; step < 2 * mostSteps && wayMm + stepMm <= stretch.lengthMm; step++) {
    const seen = nextRun(last, alongX, alongY, stepMm, stretch);
    if (typeof seen === 'string' && stepMm >= shortestStep * start.lengthMm) {
      stepMm /= 2;
      continue;
    }
    const next = seen === 'lost' ? leap(last, alongX, alongY, stretch) : seen;
    if (next === 'unknown') return null;
    if (typeof next === 'string') break;
    if (next.lengthMm > mostGrowth * last.lengthMm) {
      if (stepMm < shortestStep * start.lengthMm) {
        broader = next;
        break;
      }
      stepMm /= 2;
      continue;
    }
    const [x, y] = [next.xMm - last.xMm, next.yMm - last.yMm];
    wayMm += Math.hypot(x, y);
    [alongX, alongY] = next.dx * y > next.dy * x ? [-next.dy, next.dx] : [next.dy, -next.dx];
    runs.push(next);
    last = next;
  }
  return { runs, broader };
}

function nextRun(
  last: ExactRun,
  alongX: number,
  alongY: number,
  stepMm: number,
  { boxMm, leastMm, look }: StretchOfRun,
): ExactRun | 'ends' | 'unknown' | 'lost' {
  const xMm = last.xMm + stepMm * alongX;
  const yMm = last.yMm + stepMm * alongY;
  if (!holds(boxMm, xMm, yMm)) return 'ends';
  const next = look(xMm, yMm);
  if (next === 'broad') return 'ends';
  if (next === 'unknown') return next;
  if (next === null || !isMiddle(next)) return 'lost';
  if (next.lengthMm < leastMm) return 'ends';
  return Math.abs(next.dx * alongY - next.dy * alongX) < leastAhead ? 'lost' : next;
}

/** Where a stretch goes on as narrow beyond a corner or a crossing, straight ahead if it can. */
function leap(
  last: ExactRun,
  alongX: number,
  alongY: number,
  { boxMm, leastMm, look }: StretchOfRun,
): ExactRun | 'ends' | 'unknown' {
  for (let k = 0; k <= 2 * leapAngles; k++) {
    const angle = leapAngleRad * Math.ceil(k / 2) * (k % 2 === 0 ? 1 : -1);
    const dx = alongX * Math.cos(angle) - alongY * Math.sin(angle);
    const dy = alongX * Math.sin(angle) + alongY * Math.cos(angle);
    for (const widths of leaps) {
      const wayMm = widths * last.lengthMm;
      const [xMm, yMm] = [last.xMm + wayMm * dx, last.yMm + wayMm * dy];
      if (!holds(boxMm, xMm, yMm)) break;
      const next = look(xMm, yMm);
      if (next === 'unknown') return next;
      if (next === null) break;
      if (next === 'broad' || !isMiddle(next) || next.lengthMm < leastMm) continue;
      // It has to lead away from here, not past.
      const leadsAway = Math.abs(next.dx * dy - next.dy * dx) >= leastAhead;
      if (leadsAway && next.lengthMm <= mostGrowth * last.lengthMm) return next;
    }
  }
  return 'ends';
}

/** The narrowest of a few looks between three runs, closing in on the smallest; null when one of them sees nothing. */
function between(before: ExactRun, middle: ExactRun, after: ExactRun, { look }: StretchOfRun): ExactRun | null {
  let [a, b, c] = [before, middle, after];
  for (let round = 0; round < 10; round++) {
    const left = look((a.xMm + b.xMm) / 2, (a.yMm + b.yMm) / 2);
    const right = look((b.xMm + c.xMm) / 2, (b.yMm + c.yMm) / 2);
    if (left === null || right === null || typeof left === 'string' || typeof right === 'string') return null;
    if (left.lengthMm < b.lengthMm && left.lengthMm <= right.lengthMm) [b, c] = [left, b];
    else if (right.lengthMm < b.lengthMm) [a, b] = [b, right];
    else [a, c] = [left, right];
  }
  return b;
}

function holds({ xMm, yMm, widthMm, heightMm }: BoxMm, x: number, y: number): boolean {
  return x >= xMm && y >= yMm && x <= xMm + widthMm && y <= yMm + heightMm;
}
