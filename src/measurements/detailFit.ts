import type { EdgeFinder } from '../raster/edgeDistance.ts';

export interface FittedWidth {
  /** In units of a pixel's width. */
  readonly widthPx: number;
  /** The true width lies within this of `widthPx` for edges sampled at pixel centres. */
  readonly plusMinusPx: number;
}

const shortReachPx = 12;
/** For edges so nearly along the pixel rows that the short reach sees no step in them. */
const longReachPx = 120;
/** A place further off its curve than this belongs to something else: the reach ends before it. */
const strayPx = 1;
const mostRounds = 4;
/**
 * What a curve laid row by row is trusted with: edges that bend no more tightly than this, or that are as good as straight
 * over the rows in use, and no more tightly than the second where few steps of them are seen.
 */
const leastRadiusPx = 70;
const slowRadiusPx = 300;
const mostRisePx = 0.5;
/** The rows in use where the reach is cut short: so many at least, of them so many to either hand. */
const leastRows = 11;
const leastRowsAside = 5;
/** How far apart both edges may run then, and how far off the stretch's direction. */
const mostSpread = 0.15;
const mostTurn = 0.35;
/** By so much less are edges known there, and of a long reach that is bent. */
const cutBar = 1.3;
const bentBar = 1.5;

const across = new Float64Array(2 * longReachPx + 1);
const lower = new Float64Array(2 * longReachPx + 1);
const upper = new Float64Array(2 * longReachPx + 1);

/**
 * Width of a stretch at a point of its middle line: a curve is laid through the places where each of its two edges
 * passes between pixels, row by row over a short reach along the stretch, and the distance between the two curves is
 * taken square to them. Null where the stretch bends tightly or soon ends: `fitTightWidth` is for that.
 * @param x column of the point, pixel c covering c … c + 1; `y` its row
 * @param tangentX direction of the stretch there in columns, `tangentY` in rows, of any length
 * @param limitPx edges further from the middle line than this are not sought
 */
export function fitPlainWidth(
  finder: EdgeFinder,
  x: number,
  y: number,
  tangentX: number,
  tangentY: number,
  rowPitch: number,
  limitPx: number,
): FittedWidth | null {
  const first = fitOver(finder, x, y, tangentX, tangentY, rowPitch, limitPx, shortReachPx);
  if (first === null || first.isDoubtful) return null;
  if (first.phases >= 3) return first;
  const longer = fitOver(finder, x, y, tangentX, tangentY, rowPitch, limitPx, longReachPx);
  if (longer !== null && !longer.isDoubtful) {
    const plusMinusPx = (longer.isBent ? bentBar : 1) * longer.plusMinusPx;
    if (plusMinusPx < first.plusMinusPx) return { widthPx: longer.widthPx, plusMinusPx };
  }
  return first.isBent ? null : first;
}

interface RowFit extends FittedWidth {
  readonly phases: number;
  /** Of a tight bend, or hard by an end: curves laid row by row are not to be trusted. */
  readonly isDoubtful: boolean;
  /** Bent so much that few steps of its edges say nothing. */
  readonly isBent: boolean;
}

function fitOver(
  finder: EdgeFinder,
  x: number,
  y: number,
  tangentX: number,
  tangentY: number,
  rowPitch: number,
  limitPx: number,
  reachPx: number,
): RowFit | null {
  const steep = Math.abs(tangentY) * rowPitch >= Math.abs(tangentX);
  const slope = steep ? tangentX / tangentY : tangentY / tangentX;
  const along = steep ? y : x;
  const side = steep ? x : y;
  const middle = Math.floor(along);
  const centre = longReachPx;
  let from = 0;
  let to = -1;
  for (const step of [1, -1] as const) {
    for (let k = step === 1 ? 0 : -1; Math.abs(k) <= reachPx; k += step) {
      const at = centre + k;
      const line = middle + k;
      const cell = Math.floor(side + (line + 0.5 - along) * slope);
      const column = steep ? cell : line;
      const row = steep ? line : cell;
      if (!finder.holds(column, row)) break;
      const back = steep ? finder.toLeft(column, row, limitPx) : finder.toRow(column, row, -1, limitPx / rowPitch);
      const ahead = steep ? finder.toRight(column, row, limitPx) : finder.toRow(column, row, 1, limitPx / rowPitch);
      if (back === Infinity || ahead === Infinity) break;
      // The edge passes half-way between the last pixel on the shape and the first one off it.
      const low = cell - back + 1;
      const high = cell + ahead;
      if (k !== 0) {
        // An edge that turns more than its pixel steps can explain is the end of the stretch, or a crossing.
        const turn = step * slope;
        const jump = Math.max(Math.abs(low - lower[at - step] - turn), Math.abs(high - upper[at - step] - turn));
        if (jump > 1.6) break;
      }
      across[at] = line + 0.5 - along;
      lower[at] = low;
      upper[at] = high;
      if (step === 1) to = k;
      else from = k;
    }
    if (to < 0) return null;
  }
  let fit = fitEdges(from, to);
  if (fit === null) return null;
  for (let round = 0; round < mostRounds; round++) {
    const stray = strayRows(fit, from, to);
    if (stray.from === from && stray.to === to) break;
    ({ from, to } = stray);
    fit = fitEdges(from, to);
    if (fit === null) return null;
  }
  const { low, high } = fit;
  const count = to - from + 1;
  const unit = steep ? 1 : rowPitch;
  const lean = ((low.slope + high.slope) / 2) * (steep ? 1 / rowPitch : rowPitch);
  const square = unit / Math.hypot(1, lean);
  const lowPhases = phasesOf(lower, centre + from, count);
  const highPhases = phasesOf(upper, centre + from, count);
  const phases = Math.min(lowPhases, highPhases);
  const sampling = square * (0.5 / lowPhases + 0.5 / highPhases);
  // From the middle between both curves square to each: along the row alone a bent stretch would come out too thin.
  const middleAt = (low.value + high.value) / 2;
  const step = steep ? rowPitch : 1;
  return {
    widthPx: wayTo(low, middleAt, step, unit) + wayTo(high, middleAt, step, unit),
    plusMinusPx: Math.max(0.3 * Math.max(1, rowPitch), sampling) * (isCut(from, to) ? cutBar : 1),
    phases,
    isDoubtful: isBent(fit, from, to, leastRadiusPx) || (isCut(from, to) && isHardByEnd(fit, from, to, slope)),
    isBent: isBent(fit, from, to, slowRadiusPx),
  };
}

/** Whether the edges bend more tightly than that, and are not as good as straight over the rows in use. */
function isBent({ low, high }: Curves, from: number, to: number, radiusPx: number): boolean {
  const bend = Math.max(Math.abs(low.bend), Math.abs(high.bend));
  return 2 * bend * radiusPx > 1 && bend * Math.max(-from, to) ** 2 > mostRisePx;
}

/** Whether what is left of the reach is too short, or its edges run too far apart, to be told from an end. */
function isHardByEnd({ low, high }: Curves, from: number, to: number, slope: number): boolean {
  if (to - from + 1 < leastRows || Math.min(-from, to) < leastRowsAside) return true;
  return Math.abs(low.slope - high.slope) > mostSpread || Math.abs((low.slope + high.slope) / 2 - slope) > mostTurn;
}

/** Whether the short reach came to an end before its end. */
function isCut(from: number, to: number): boolean {
  return to - from < 2 * shortReachPx;
}

/**
 * Way from a place on the row of the point to a curve, square to the curve.
 * @param step what a row, along the stretch, is long, and `unit` a pixel across it, in units of a pixel's width
 */
function wayTo(curve: Curve, from: number, step: number, unit: number): number {
  let u = 0;
  for (let round = 0; round < 8; round++) {
    const across = (curve.value + curve.slope * u + curve.bend * u * u - from) * unit;
    const slope = (curve.slope + 2 * curve.bend * u) * unit;
    // Newton's method for where the way is square to the curve; where that leads nowhere, the last step counts.
    const turn = step * step + slope * slope + 2 * across * curve.bend * unit;
    if (!(turn > 0)) break;
    const next = u - (u * step * step + across * slope) / turn;
    if (Math.abs(next - u) < 1e-6) break;
    u = next;
  }
  return Math.hypot(u * step, (curve.value + curve.slope * u + curve.bend * u * u - from) * unit);
}

interface Curve {
  readonly value: number;
  readonly slope: number;
  readonly bend: number;
}

interface Curves {
  readonly low: Curve;
  readonly high: Curve;
}

function fitEdges(from: number, to: number): Curves | null {
  const count = to - from + 1;
  if (count < 3) return null;
  const bent = count >= 9 && Math.min(-from, to) >= 4;
  return {
    low: fitCurve(lower, longReachPx + from, count, bent),
    high: fitCurve(upper, longReachPx + from, count, bent),
  };
}

/** The rows around the point up to the first on either side where an edge strays from its curve. */
function strayRows(fit: Curves, from: number, to: number): { from: number; to: number } {
  const strays = (k: number) =>
    distanceTo(fit.low, lower[longReachPx + k], across[longReachPx + k]) > strayPx ||
    distanceTo(fit.high, upper[longReachPx + k], across[longReachPx + k]) > strayPx;
  let first = 0;
  let last = 0;
  while (first > from && !strays(first - 1)) first--;
  while (last < to && !strays(last + 1)) last++;
  return { from: first, to: last };
}

function distanceTo(curve: Curve, place: number, u: number): number {
  return Math.abs(place - curve.value - curve.slope * u - curve.bend * u * u);
}

/** Least squares through edge places; value and slope where the point lies (across = 0). */
function fitCurve(edge: Float64Array, start: number, count: number, bent: boolean): Curve {
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  let s4 = 0;
  let t0 = 0;
  let t1 = 0;
  let t2 = 0;
  const base = edge[start];
  for (let k = start; k < start + count; k++) {
    const u = across[k];
    const v = edge[k] - base;
    const uu = u * u;
    s1 += u;
    s2 += uu;
    s3 += uu * u;
    s4 += uu * uu;
    t0 += v;
    t1 += u * v;
    t2 += uu * v;
  }
  if (!bent) {
    const det = count * s2 - s1 * s1;
    return { value: base + (t0 * s2 - t1 * s1) / det, slope: (count * t1 - s1 * t0) / det, bend: 0 };
  }
  const a = s2 * s4 - s3 * s3;
  const b = s1 * s4 - s2 * s3;
  const c = s1 * s3 - s2 * s2;
  const det = count * a - s1 * b + s2 * c;
  const value = (t0 * a - t1 * b + t2 * c) / det;
  const slope = (-t0 * b + t1 * (count * s4 - s2 * s2) - t2 * (count * s3 - s1 * s2)) / det;
  const bend = (t0 * c - t1 * (count * s3 - s1 * s2) + t2 * (count * s2 - s1 * s1)) / det;
  return { value: base + value, slope, bend };
}

/**
 * How many different places between two pixel centres the edge is seen to pass, 1 to 4. An edge along the rows or along
 * their diagonal passes all of them at the same place and is known no better than to the pixel.
 */
function phasesOf(edge: Float64Array, start: number, count: number): number {
  if (count < 4) return 1;
  const mean = (edge[start + count - 1] - edge[start]) / (count - 1);
  const usual = Math.round(mean);
  let steps = 0;
  for (let k = start + 1; k < start + count; k++) if (edge[k] - edge[k - 1] !== usual) steps++;
  // An edge of slope one half steps every second row, of one third every third: no more phases than rows between steps.
  const period = steps === 0 ? 1 : Math.max(2, Math.round(count / steps));
  return Math.min(4, Math.max(1, steps), period);
}
