import { cornerSlope } from './detailGraph.ts';

/** Lengths over which a slope is taken. */
const slopeReachPx = 5;
/** Width at the very end of a point, from the fit of its flanks, and more for steep ones; a blunt end shows more. */
const pointEndPx = 1.6;
const pointEndPerSlope = 1.2;
const pointEndPerSteepness = 12;
const steepSlope = 0.4;
const shortestTaperPx = 5;
/** A taper grows by at least this much. */
const taperRisePx = 2;
const plateauPx = 1;
/** What a point may still widen by behind where it is as wide as it gets but for a plateau's noise. */
const mostRestRisePx = 3;
/** An end is looked at over this many widths; it has its full width back at this share of it. */
const slantReach = 2.2;
const slantLooks = [1, 0.6, 0.35];
const fullShare = 0.85;
/** An end with more than this share of the width is blunt. */
const bluntShare = 0.6;
/** The width of a stroke cut off at a slant of 25° or steeper grows by 2·sin(25° / 2) a step. */
const slantSlope = 0.43;
/** A stroke keeps its width behind its end; what grows by more than this is a taper. */
const strokeGrowth = 1.15;
const strokeGrowthPx = 0.7;

/** Whether the whole line is one corner: the width rises as fast as in a corner, evenly, from the tip to the broad part. */
export function isStraightRise(widths: Float64Array, along: Float64Array, count: number, fromHead: boolean): boolean {
  const tip = fromHead ? 0 : count - 1;
  const root = fromHead ? count - 1 : 0;
  const rise = widths[root] - widths[tip];
  if (rise <= cornerSlope * Math.abs(along[root] - along[tip])) return false;
  return isStraightBetween(widths, along, tip, root, fromHead ? 1 : -1);
}

/** Whether the width nowhere hangs far below an even rise between two points. */
function isStraightBetween(widths: Float64Array, along: Float64Array, from: number, to: number, step: 1 | -1): boolean {
  const rise = widths[to] - widths[from];
  const length = Math.abs(along[to] - along[from]);
  for (let k = from; k !== to; k += step) {
    const even = widths[from] + (rise * Math.abs(along[k] - along[from])) / length;
    if (widths[k] < even - Math.max(1.5, 0.3 * rise)) return false;
  }
  return true;
}

/** What lies at a free end: where the line proper starts, and whether the way there is a point that thins out. */
export interface OpenEnd {
  readonly start: number;
  readonly isTaper: boolean;
}

/**
 * Looks at a free end (the head with `step` 1, the tail with -1). A stroke cut off at a slant has its full width back
 * soon; a point has flanks that meet at the end and widens without a break; anything steeper than a point is a corner.
 */
export function openEnd(widths: Float64Array, along: Float64Array, count: number, step: 1 | -1): OpenEnd {
  const tip = step === 1 ? 0 : count - 1;
  // The stroke behind the end may be narrower than the line's middle: shorter looks see less of what comes after it.
  for (const share of slantLooks) {
    const slant = pastSlant(widths, along, count, step, share * slantReach * widths[count >> 1]);
    if (slant !== tip) return { start: slant, isTaper: false };
  }
  const point = pointAt(widths, along, count, step);
  if (point === null) return { start: pastCorner(widths, along, count, step), isTaper: false };
  return { start: point.end, isTaper: point.slope <= cornerSlope };
}

/** Where a stroke cut off at a slant has its full width, or the tip itself when the end is none. */
function pastSlant(widths: Float64Array, along: Float64Array, count: number, step: 1 | -1, reach: number): number {
  const tip = step === 1 ? 0 : count - 1;
  const last = step === 1 ? count - 1 : 0;
  const within = (from: number, way: number) => {
    let far = from;
    while (far !== last && Math.abs(along[far] - along[from]) < way) far += step;
    return far;
  };
  let widest = widths[tip];
  for (let k = tip, far = within(tip, reach); k !== far; k += step) widest = Math.max(widest, widths[k]);
  if (widths[tip] > bluntShare * widest) return tip;
  let end = tip;
  while (widths[end] < fullShare * widest) end += step;
  const isSlant =
    widths[end] - widths[tip] >= slantSlope * Math.abs(along[end] - along[tip]) &&
    widths[within(end, widest)] <= Math.max(strokeGrowth * widest, widest + strokeGrowthPx) &&
    isStraightBetween(widths, along, tip, end, step);
  return isSlant ? end : tip;
}

/** From a free end inwards, past where the width rises as in a corner. */
function pastCorner(widths: Float64Array, along: Float64Array, count: number, step: 1 | -1): number {
  return walkWhile(along, count, step, (near, far, run) => (widths[far] - widths[near]) / run > cornerSlope);
}

/** From an end at something broad inwards, past where the width falls as fast. */
export function pastFunnel(widths: Float64Array, along: Float64Array, count: number, step: 1 | -1): number {
  return walkWhile(along, count, step, (near, far, run) => (widths[near] - widths[far]) / run > cornerSlope);
}

function walkWhile(
  along: Float64Array,
  count: number,
  step: 1 | -1,
  goesOn: (near: number, far: number, run: number) => boolean,
): number {
  const last = step === 1 ? count - 1 : 0;
  let near = step === 1 ? 0 : count - 1;
  while (near !== last) {
    let far = near;
    while (far !== last && Math.abs(along[far] - along[near]) < slopeReachPx) far += step;
    if (!goesOn(near, far, Math.abs(along[far] - along[near]))) break;
    near += step;
  }
  return near;
}

/** The point at a free end, how fast it widens and where it stops doing so; null when the end is blunt. */
function pointAt(
  widths: Float64Array,
  along: Float64Array,
  count: number,
  step: 1 | -1,
): { end: number; slope: number } | null {
  const tip = step === 1 ? 0 : count - 1;
  const last = step === 1 ? count - 1 : 0;
  let widest = tip;
  for (let k = tip; k !== last + step; k += step) {
    if (widths[k] > widths[widest]) widest = k;
    else if (widths[k] < widths[widest] - plateauPx) break;
  }
  if (widths[widest] - widths[tip] < taperRisePx || widths[tip] > bluntShare * widths[widest]) return null;
  let end = tip;
  while (widths[end] < widths[widest] - plateauPx) end += step;
  const flank = fitFlank(widths, along, tip, end, step);
  if (flank === null) return null;
  const { slope, atTip } = flank;
  // The middle line of a steep point ends well short of it.
  const most = pointEndPx + pointEndPerSlope * slope + pointEndPerSteepness * Math.max(0, slope - steepSlope);
  if (atTip > most || widths[tip] > most + 1) return null;
  // It goes on to the other end when it goes on widening; a stroke of one width may have its widest pixel there too.
  const restRise = slope * Math.abs(along[last] - along[end]);
  const stop = widest === last && restRise <= mostRestRisePx ? last : end;
  const least = Math.max(shortestTaperPx, widths[stop]);
  return Math.abs(along[stop] - along[tip]) < least ? null : { end: stop, slope };
}

/** Straight line through the widths between two points: their growth a step, and what it leaves at the first. */
function fitFlank(
  widths: Float64Array,
  along: Float64Array,
  from: number,
  to: number,
  step: 1 | -1,
): { slope: number; atTip: number } | null {
  const points = Math.abs(to - from) + 1;
  let sumS = 0;
  let sumW = 0;
  let sumSS = 0;
  let sumSW = 0;
  for (let k = from, n = 0; n < points; k += step, n++) {
    const s = Math.abs(along[k] - along[from]);
    sumS += s;
    sumW += widths[k];
    sumSS += s * s;
    sumSW += s * widths[k];
  }
  const spread = points * sumSS - sumS * sumS;
  if (points < 3 || spread <= 0) return null;
  const slope = (points * sumSW - sumS * sumW) / spread;
  return { slope, atTip: (sumW - slope * sumS) / points };
}
