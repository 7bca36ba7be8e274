import { type BoxMm, grownBox } from '../geometry/box.ts';
import type { NarrowPlace } from './detail.ts';
import type { ExactArt } from './exactArt.ts';
import { type ExactRun, runAt } from './exactRun.ts';
import type { black, clear } from './exactSection.ts';

/** A width as the file states it. */
export interface ExactWidth {
  readonly widthMm: number;
  readonly plusMinusMm: number;
  /** The object it is of; null for bare film between objects. */
  readonly objectId: string | null;
}

/**
 * Numbers of a film up to 400 mm in single precision, in which most programs write, are good to this, and so is what
 * is worked out from them.
 */
export const numberToleranceMm = 0.00005;
/** A stretch whose width changes by no more is taken as of one width. */
const evenMm = 0.002;
/** In the middle of a stretch no edge is nearer than its sides; near an end one is. */
const leastClearance = 0.95;
const mostSteps = 40;
/** A stretch ends where it is this much broader from one step to the next. */
const mostGrowth = 1.3;

/**
 * The exact width of a narrow place that was found on the pixels, at its narrowest. Null where the file does not state
 * it, where it does not agree with the pixels within their error bar, or where its narrowest spot cannot be told.
 */
export function exactWidthOf(
  art: ExactArt,
  place: NarrowPlace,
  state: typeof clear | typeof black,
  pitchMm: number,
): ExactWidth | null {
  if (place.kind !== 'line') return null;
  const reachMm = 1.5 * place.minWidthMm + 3 * pitchMm;
  const run = runAt(art, place.xMm, place.yMm, state, reachMm, 1.5 * pitchMm);
  if (run === null || !isMiddle(run)) return null;
  const agrees = (widthMm: number) => Math.abs(widthMm - place.minWidthMm) <= place.plusMinusMm + pitchMm / 2;
  const look = (xMm: number, yMm: number) => runAt(art, xMm, yMm, state, reachMm, pitchMm / 2);
  const found = evenWidth(run, place, look) ?? narrowestOf(run, grownBox(place.boxMm, pitchMm), place.lengthMm, look);
  if (found === null || !agrees(found.widthMm)) return null;
  return { ...found, objectId: run.objectId };
}

type Look = (xMm: number, yMm: number) => ExactRun | null;
type Found = Pick<ExactWidth, 'widthMm' | 'plusMinusMm'>;

function isMiddle({ clearanceMm, lengthMm }: ExactRun): boolean {
  return clearanceMm >= (leastClearance * lengthMm) / 2;
}

/** The width between two straight parallel sides, when a few looks along the stretch find no narrower spot. */
function evenWidth(run: ExactRun, { lengthMm, boxMm }: NarrowPlace, look: Look): Found | null {
  if (run.partingRad === null) return null;
  const changeMm = run.partingRad * lengthMm;
  if (changeMm > evenMm / 2) return null;
  for (const share of [-0.4, -0.2, -0.1, 0.1, 0.2, 0.4]) {
    const xMm = run.xMm - share * lengthMm * run.dy;
    const yMm = run.yMm + share * lengthMm * run.dx;
    if (!holds(boxMm, xMm, yMm)) continue;
    const other = look(xMm, yMm);
    if (other !== null && isMiddle(other) && other.lengthMm < run.lengthMm - changeMm - numberToleranceMm) return null;
  }
  return { widthMm: run.lengthMm, plusMinusMm: numberToleranceMm + changeMm };
}

/** Follows a stretch both ways and takes its narrowest spot. */
function narrowestOf(run: ExactRun, box: BoxMm, lengthMm: number, look: Look): Found | null {
  const stepMm = Math.max(run.lengthMm / 3, lengthMm / mostSteps);
  const ahead = follow(run, 1, stepMm, box, lengthMm, look);
  const back = follow(run, -1, stepMm, box, lengthMm, look);
  const runs = [...back.toReversed(), run, ...ahead];
  const widths = runs.map((one) => one.lengthMm);
  const leastMm = Math.min(...widths);
  const toleranceMm = numberToleranceMm + Math.max(...runs.map((one) => one.toleranceMm));
  const spreadMm = Math.max(...widths) - leastMm;
  if (spreadMm <= evenMm) return { widthMm: leastMm, plusMinusMm: toleranceMm + spreadMm };
  const at = widths.indexOf(leastMm);
  if (at === 0 || at === runs.length - 1) {
    // It goes on getting narrower up to its end, which lies within a step and half a width.
    const changeMm = widths[at === 0 ? 1 : at - 1] - leastMm;
    return { widthMm: leastMm, plusMinusMm: toleranceMm + 1.5 * changeMm };
  }
  const narrowest = between(runs[at - 1], runs[at], runs[at + 1], look);
  return { widthMm: narrowest.lengthMm, plusMinusMm: toleranceMm + (leastMm - narrowest.lengthMm) / 4 };
}

/** Runs from step to step, until the stretch ends. */
function follow(start: ExactRun, sense: 1 | -1, stepMm: number, box: BoxMm, lengthMm: number, look: Look): ExactRun[] {
  const runs: ExactRun[] = [];
  let last = start;
  let [alongX, alongY] = [-sense * start.dy, sense * start.dx];
  for (let wayMm = stepMm; wayMm <= lengthMm; wayMm += stepMm) {
    const xMm = last.xMm + stepMm * alongX;
    const yMm = last.yMm + stepMm * alongY;
    if (!holds(box, xMm, yMm)) return runs;
    const next = look(xMm, yMm);
    if (next === null || !isMiddle(next) || next.lengthMm > mostGrowth * last.lengthMm) return runs;
    const turn = -next.dy * alongX + next.dx * alongY;
    if (Math.abs(turn) < Math.SQRT1_2) return runs;
    [alongX, alongY] = turn > 0 ? [-next.dy, next.dx] : [next.dy, -next.dx];
    runs.push(next);
    last = next;
  }
  return runs;
}

/** The narrowest of a few looks between three runs, closing in on the smallest. */
function between(before: ExactRun, middle: ExactRun, after: ExactRun, look: Look): ExactRun {
  let [a, b, c] = [before, middle, after];
  for (let round = 0; round < 6; round++) {
    const left = look((a.xMm + b.xMm) / 2, (a.yMm + b.yMm) / 2);
    const right = look((b.xMm + c.xMm) / 2, (b.yMm + c.yMm) / 2);
    if (left === null || right === null) return b;
    if (left.lengthMm < b.lengthMm && left.lengthMm <= right.lengthMm) [b, c] = [left, b];
    else if (right.lengthMm < b.lengthMm) [a, b] = [b, right];
    else [a, c] = [left, right];
  }
  return b;
}

function holds({ xMm, yMm, widthMm, heightMm }: BoxMm, x: number, y: number): boolean {
  return x >= xMm && y >= yMm && x <= xMm + widthMm && y <= yMm + heightMm;
}
