import { cornerSlope, type Stretch } from './detailGraph.ts';
import { ridgeEnds } from './detailRidges.ts';

/** Part of a stretch, as points `from` to `to` of it, ends included. */
export interface Segment {
  readonly kind: 'line' | 'taper';
  readonly from: number;
  readonly to: number;
  /** In units of a pixel's width. */
  readonly lengthPx: number;
  readonly minWidthPx: number;
  /** Point with the smallest width, and between which points it was sought: not hard by an end in the open. */
  readonly narrowest: number;
  readonly spotsFrom: number;
  readonly spotsTo: number;
  /** Two broad parts that only just meet: no length over which edges could be followed. */
  readonly isNeck: boolean;
}

/** Lengths over which a slope is taken. */
const slopeReachPx = 5;
/** A point may show this much width where it ends: pixel steps leave no less. */
const pointWidthPx = 2.5;
/** Width at the very end of a point, from the fit of its flanks, and more for steep ones; a blunt end shows more. */
const pointEndPx = 1.3;
const pointEndPerSlope = 1.2;
const shortestTaperPx = 5;
/** A taper grows by at least this much. */
const taperRisePx = 2;
const plateauPx = 1;
/** A line is at least this many times as long as wide: between broad parts, and with an end in the open. */
const attachedAspect = 1.5;
const openAspect = 2;
const neckAspect = 2;
const roundAspect = 3;

/**
 * Parts a middle line into what a person would name: points that thin out (`taper`) and lines. Runs into corners, and
 * the funnels where a line leaves a broader part, are left off. Answers nothing for a line too short for its width.
 */
export function segmentsOf(stretch: Stretch, searchPx: number): Segment[] {
  const { along, count } = stretch;
  const widths = smoothed(stretch.widths, count, stretch.closed);
  if (stretch.closed) {
    const round = segment('line', stretch, widths, 0, count - 1, along[count - 1]);
    return round.lengthPx >= roundAspect * round.minWidthPx ? [round] : [];
  }
  const headFree = stretch.headKind === ridgeEnds.free;
  const tailFree = stretch.tailKind === ridgeEnds.free;
  let from = headFree ? pastCorner(widths, along, count, 1) : pastFunnel(widths, along, count, 1);
  let to = tailFree ? pastCorner(widths, along, count, -1) : pastFunnel(widths, along, count, -1);
  if (headFree !== tailFree && isStraightRise(widths, along, count, headFree)) return [];
  const segments: Segment[] = [];
  if (from < to) {
    const headTaper = headFree ? taperEnd(widths, along, from, to, 1) : from;
    const tailTaper = tailFree ? taperEnd(widths, along, to, from, -1) : to;
    if (headTaper !== from && tailTaper !== to && headTaper >= tailTaper) {
      return [segment('taper', stretch, widths, from, to, along[to] - along[from])];
    }
    if (headTaper !== from)
      segments.push(segment('taper', stretch, widths, from, headTaper, along[headTaper] - along[from]));
    if (tailTaper !== to) segments.push(segment('taper', stretch, widths, tailTaper, to, along[to] - along[tailTaper]));
    from = headTaper;
    to = tailTaper;
    // A free end lies half a width short of the end of the shape.
    const blunt =
      (headFree && segments.length === 0 ? widths[from] / 2 : 0) + (tailFree && tailTaper === to ? widths[to] / 2 : 0);
    const line = segment('line', stretch, widths, from, to, along[to] - along[from] + blunt);
    const aspect = headFree || tailFree ? openAspect : attachedAspect;
    if (line.lengthPx >= aspect * line.minWidthPx) {
      segments.push(line);
      return segments;
    }
  }
  return headFree || tailFree ? segments : segments.concat(neckOf(stretch, searchPx));
}

/**
 * The place where two broad parts only just meet. Between two rounded parts the width passes the searched one, s, and
 * its smallest, n, within √(s² − n²): no shape has less way between them.
 */
function neckOf(stretch: Stretch, searchPx: number): Segment[] {
  const { along, count, widths } = stretch;
  const whole = segment('line', stretch, widths, 0, count - 1, along[count - 1]);
  const n = whole.minWidthPx;
  const lengthPx = Math.max(whole.lengthPx, Math.sqrt(Math.max(0, searchPx * searchPx - n * n)));
  const ends = Math.min(widths[0], widths[count - 1]);
  return lengthPx >= neckAspect * n && ends >= 1.5 * n ? [{ ...whole, lengthPx, isNeck: true }] : [];
}

function segment(
  kind: 'line' | 'taper',
  stretch: Stretch,
  widths: Float64Array,
  from: number,
  to: number,
  lengthPx: number,
): Segment {
  const { along, headKind, tailKind, closed } = stretch;
  let spotsFrom = from;
  let spotsTo = to;
  if (kind === 'line' && !closed) {
    // Within half a width of a free end the end itself is the nearest edge; a long line can spare a whole one.
    const clearance = (k: number) => (lengthPx > 6 * widths[k] ? 1 : 0.5) * widths[k];
    if (headKind === ridgeEnds.free)
      while (spotsFrom < to && along[spotsFrom] - along[from] < clearance(spotsFrom)) spotsFrom++;
    if (tailKind === ridgeEnds.free)
      while (spotsTo > from && along[to] - along[spotsTo] < clearance(spotsTo)) spotsTo--;
  }
  if (spotsFrom > spotsTo) spotsFrom = spotsTo = (from + to) >> 1;
  let narrowest = spotsFrom;
  for (let k = spotsFrom; k <= spotsTo; k++) if (widths[k] < widths[narrowest]) narrowest = k;
  const minWidthPx = kind === 'taper' ? stretch.widths[narrowest] : widths[narrowest];
  return { kind, from, to, lengthPx, minWidthPx, narrowest, spotsFrom, spotsTo, isNeck: false };
}

/** Mean over five points, fewer towards open ends. */
function smoothed(widths: Float64Array, count: number, closed: boolean): Float64Array {
  const result = new Float64Array(count);
  for (let k = 0; k < count; k++) {
    const reach = closed ? 2 : Math.min(2, k, count - 1 - k);
    let sum = 0;
    for (let j = k - reach; j <= k + reach; j++) sum += widths[(j + count) % count];
    result[k] = sum / (2 * reach + 1);
  }
  return result;
}

/** Whether the whole line is one corner: the width rises as fast as in a corner, evenly, from the tip to the broad part. */
function isStraightRise(widths: Float64Array, along: Float64Array, count: number, fromHead: boolean): boolean {
  const tip = fromHead ? 0 : count - 1;
  const root = fromHead ? count - 1 : 0;
  const rise = widths[root] - widths[tip];
  const length = Math.abs(along[root] - along[tip]);
  if (rise <= cornerSlope * length) return false;
  for (let k = 0; k < count; k++) {
    const even = widths[tip] + (rise * Math.abs(along[k] - along[tip])) / length;
    if (widths[k] < even - Math.max(1.5, 0.2 * rise)) return false;
  }
  return true;
}

/** From a free end inwards, past where the width rises as in a corner. */
function pastCorner(widths: Float64Array, along: Float64Array, count: number, step: 1 | -1): number {
  return walkWhile(along, count, step, (near, far, run) => (widths[far] - widths[near]) / run > cornerSlope);
}

/** From an end at something broad inwards, past where the width falls as fast. */
function pastFunnel(widths: Float64Array, along: Float64Array, count: number, step: 1 | -1): number {
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

/**
 * Where the taper that starts at a free end stops, or the end itself when it is no point. A point begins hardly wider
 * than a pixel, with flanks that meet there, and widens without a break.
 */
function taperEnd(widths: Float64Array, along: Float64Array, tip: number, other: number, step: 1 | -1): number {
  if (widths[tip] > pointWidthPx) return tip;
  let widest = tip;
  for (let k = tip; k !== other + step; k += step) {
    if (widths[k] > widths[widest]) widest = k;
    else if (widths[k] < widths[widest] - plateauPx) break;
  }
  let end = tip;
  while (end !== widest && widths[end] < widths[widest] - plateauPx) end += step;
  if (widths[widest] - widths[tip] < taperRisePx) return tip;
  const points = Math.abs(end - tip) + 1;
  let sumS = 0;
  let sumW = 0;
  let sumSS = 0;
  let sumSW = 0;
  for (let k = tip, n = 0; n < points; k += step, n++) {
    const s = Math.abs(along[k] - along[tip]);
    sumS += s;
    sumW += widths[k];
    sumSS += s * s;
    sumSW += s * widths[k];
  }
  const spread = points * sumSS - sumS * sumS;
  if (points < 3 || spread <= 0) return tip;
  const slope = (points * sumSW - sumS * sumW) / spread;
  const atTip = (sumW - slope * sumS) / points;
  const isPoint = atTip <= pointEndPx + pointEndPerSlope * slope && slope <= cornerSlope;
  const stop = widest === other ? other : end;
  return isPoint && Math.abs(along[stop] - along[tip]) >= shortestTaperPx ? stop : tip;
}
