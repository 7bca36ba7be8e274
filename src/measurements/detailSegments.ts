import { isStraightRise, type OpenEnd, openEnd, pastFunnel } from './detailEnds.ts';
import type { Stretch } from './detailGraph.ts';
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

/** What is shorter has no length to speak of. */
const leastLinePx = 3;
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
  if (headFree !== tailFree && isStraightRise(widths, along, count, headFree)) return [];
  const head: OpenEnd = headFree ? openEnd(widths, along, count, 1) : funnel(widths, along, count, 1);
  const tail: OpenEnd = tailFree ? openEnd(widths, along, count, -1) : funnel(widths, along, count, -1);
  if (head.isTaper && tail.isTaper && head.start >= tail.start) {
    return [segment('taper', stretch, widths, 0, count - 1, along[count - 1])];
  }
  const segments: Segment[] = [];
  if (head.isTaper) segments.push(segment('taper', stretch, widths, 0, head.start, along[head.start]));
  if (tail.isTaper) {
    segments.push(segment('taper', stretch, widths, tail.start, count - 1, along[count - 1] - along[tail.start]));
  }
  if (head.start < tail.start) {
    // The middle line ends half a width short of a blunt end; what a slant left off belongs to the length too.
    const headRest = headFree && !head.isTaper ? Math.max(widths[head.start] / 2, along[head.start]) : 0;
    const tailRest =
      tailFree && !tail.isTaper ? Math.max(widths[tail.start] / 2, along[count - 1] - along[tail.start]) : 0;
    const length = along[tail.start] - along[head.start] + headRest + tailRest;
    const line = segment('line', stretch, widths, head.start, tail.start, length);
    const aspect = headFree || tailFree ? openAspect : attachedAspect;
    if (line.lengthPx >= Math.max(leastLinePx, aspect * line.minWidthPx)) return [...segments, line];
  }
  return headFree || tailFree ? segments : segments.concat(neckOf(stretch, searchPx));
}

function funnel(widths: Float64Array, along: Float64Array, count: number, step: 1 | -1): OpenEnd {
  return { start: pastFunnel(widths, along, count, step), isTaper: false };
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
