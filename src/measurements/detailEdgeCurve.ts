import type { EdgeTrace } from '../raster/edgeTrace.ts';
import { BandPoints } from './curveBand.ts';

export const mostReachPx = 12;
/** Over less an edge tells neither its direction nor its bend. */
const leastReachPx = 3;
const firstReachPx = 4;
const leastSides = 6;
/** An edge further than this from its curve turns off. */
const strayPx = 0.7;
/** An edge that leans more than this against the chord of its sides is followed too little to one hand. */
const mostLean = 0.35;
const mostRounds = 5;
const bounds = { slope: 0.5, bend: 0.25 };
/** What a parabola may leave of an edge that is one, and the most that is allowed for what it leaves of a circle. */
const slackPx = 0.05;
const mostSlackPx = 0.3;
/** A band narrower than this, or than as much over the number of sides, is one by luck, or the edge is no parabola. */
const leastBandPx = 0.15;
const leastBandSides = 4;
/** Off a corner a parabola lies by about so much of what it rises over its reach. */
const offCorner = 1 / 12;

const band = new BandPoints();

/** The way from a point to an edge beside it, in units of a pixel's width. */
export interface EdgeWay {
  readonly wayPx: number;
  readonly plusMinusPx: number;
}

/** How far a parabola of some bend keeps within a tenth of a pixel of its circle. */
export function reachOfBend(bend: number): number {
  return Math.max(leastReachPx, 0.56 * Math.abs(bend) ** -0.75);
}

/**
 * A parabola laid along an edge that was followed from a point: v = value + slope·u + bend·u² over an axis through the
 * point, with the edge at v > 0. The axis is turned until it runs as the edge does where it is nearest to the point.
 */
export class EdgeCurve {
  /** Direction of the axis, of length 1. */
  ux = 1;
  uy = 0;
  value = 0;
  slope = 0;
  /** Half the edge's curvature, above 0 where it bends away from the point, as inside a bend. */
  bend = 0;
  private readonly trace: EdgeTrace;
  private readonly foot: number;
  private from: number;
  private to: number;

  constructor(trace: EdgeTrace) {
    this.trace = trace;
    this.foot = footOf(trace);
    this.from = this.foot;
    this.to = this.foot;
  }

  /**
   * Lays the curve over as much of the edge as runs along it. False where the edge is followed too little for that.
   * @param mostPx how far from the point's nearest place the curve may be laid
   */
  lay(mostPx: number): boolean {
    if (this.foot <= this.trace.first || this.foot >= this.trace.last) return false;
    const near = Math.min(firstReachPx, mostPx);
    this.takeNear(near);
    if (!this.turnAlongChord()) return false;
    for (let round = 0, reachPx = near; round < mostRounds; round++, reachPx *= 1.7) {
      if (!this.fit() || !this.turnAlongCurve() || !this.fit()) return false;
      if (!this.takeAlong(Math.min(mostPx, reachPx, reachOfBend(this.bend))) && round > 1) break;
    }
    return this.fit() && this.isSound();
  }

  /** Way from the nearest place to the further end of what the curve was laid over. */
  get reachPx(): number {
    return Math.max(this.wayTo(this.from), this.wayTo(this.to));
  }

  /**
   * Way from the point to the edge. Of all parabolas that keep the pixels' centres along the edge on their sides it takes
   * the middle of the nearest and the furthest, and of that and the least squares; half the way between the two is the
   * error bar. Null where no parabola does.
   */
  way(): EdgeWay | null {
    for (let round = 0; round < mostRounds; round++) {
      const { reachPx } = this;
      const slack = slackPx + Math.min(mostSlackPx, Math.abs(this.bend) ** 3 * reachPx ** 4);
      this.fillBand();
      const high = band.extreme(1, slack, this.value + 3, bounds.slope, bounds.bend);
      const low = high === null ? null : band.extreme(-1, slack, this.value + 3, bounds.slope, bounds.bend);
      if (high !== null && low !== null) {
        const half = Math.max(leastBandPx, leastBandSides / (this.to - this.from + 1), (high - low) / 2);
        return {
          wayPx: (2 * this.value + low + high) / 4,
          plusMinusPx: half + offCorner * Math.max(0, this.bend) * reachPx ** 2,
        };
      }
      if (!this.shorten() || !this.fit() || !this.isSound()) return null;
    }
    return null;
  }

  private isSound(): boolean {
    const { from, to, foot } = this;
    return to - from + 1 >= leastSides && from < foot && foot < to && Math.abs(this.slope) <= mostLean;
  }

  private takeNear(reachPx: number): void {
    while (this.from > this.trace.first && this.wayTo(this.from - 1) <= reachPx) this.from--;
    while (this.to < this.trace.last && this.wayTo(this.to + 1) <= reachPx) this.to++;
  }

  /** Takes the sides up to a reach that lie along the curve; false when these are the ones it has. */
  private takeAlong(reachPx: number): boolean {
    const { from, to } = this;
    this.from = this.foot;
    this.to = this.foot;
    while (this.from > this.trace.first && this.isAlong(this.from - 1, reachPx)) this.from--;
    while (this.to < this.trace.last && this.isAlong(this.to + 1, reachPx)) this.to++;
    return this.from !== from || this.to !== to;
  }

  /** Leaves off a quarter of the sides to either hand; false when there are none to spare. */
  private shorten(): boolean {
    const left = (this.foot - this.from) >> 2;
    const right = (this.to - this.foot) >> 2;
    this.from += left;
    this.to -= right;
    return left + right > 0;
  }

  private isAlong(at: number, reachPx: number): boolean {
    const { xs, ys } = this.trace;
    const u = xs[at] * this.ux + ys[at] * this.uy;
    if (Math.abs(u) > reachPx) return false;
    const v = ys[at] * this.ux - xs[at] * this.uy;
    return Math.abs(v - this.value - u * (this.slope + u * this.bend)) <= strayPx;
  }

  private turnAlongChord(): boolean {
    const { xs, ys } = this.trace;
    const right = xs[this.to] - xs[this.from];
    const down = ys[this.to] - ys[this.from];
    const long = Math.hypot(right, down);
    if (long === 0) return false;
    const sense = right * ys[this.foot] < down * xs[this.foot] ? -1 / long : 1 / long;
    this.ux = right * sense;
    this.uy = down * sense;
    return true;
  }

  private turnAlongCurve(): boolean {
    const { ux, uy, slope } = this;
    if (Math.abs(slope) > 2) return false;
    const long = Math.sqrt(1 + slope * slope);
    this.ux = (ux - slope * uy) / long;
    this.uy = (uy + slope * ux) / long;
    return true;
  }

  /** Least squares through the middles of the sides. */
  private fit(): boolean {
    const { from, to, ux, uy } = this;
    const { xs, ys } = this.trace;
    const count = to - from + 1;
    if (count < 4) return false;
    let s1 = 0;
    let s2 = 0;
    let s3 = 0;
    let s4 = 0;
    let t0 = 0;
    let t1 = 0;
    let t2 = 0;
    for (let at = from; at <= to; at++) {
      const u = xs[at] * ux + ys[at] * uy;
      const v = ys[at] * ux - xs[at] * uy;
      const uu = u * u;
      s1 += u;
      s2 += uu;
      s3 += uu * u;
      s4 += uu * uu;
      t0 += v;
      t1 += u * v;
      t2 += uu * v;
    }
    const a = s2 * s4 - s3 * s3;
    const b = s1 * s4 - s2 * s3;
    const c = s1 * s3 - s2 * s2;
    const det = count * a - s1 * b + s2 * c;
    if (Math.abs(det) < 1e-9) return false;
    this.value = (t0 * a - t1 * b + t2 * c) / det;
    this.slope = (-t0 * b + t1 * (count * s4 - s2 * s2) - t2 * (count * s3 - s1 * s2)) / det;
    this.bend = (t0 * c - t1 * (count * s3 - s1 * s2) + t2 * (count * s2 - s1 * s1)) / det;
    return true;
  }

  /** Half a pixel to either side of the middle of a side lie the pixels' centres that the edge passes between. */
  private fillBand(): void {
    const { from, to, ux, uy } = this;
    const { xs, ys, outXs, outYs } = this.trace;
    band.count = 0;
    for (let at = from; at <= to; at++) {
      const onX = xs[at] - outXs[at] / 2;
      const onY = ys[at] - outYs[at] / 2;
      const offX = xs[at] + outXs[at] / 2;
      const offY = ys[at] + outYs[at] / 2;
      // Round its corner a pixel has two sides.
      if (at === from || onX !== xs[at - 1] - outXs[at - 1] / 2 || onY !== ys[at - 1] - outYs[at - 1] / 2) {
        band.add(onX * ux + onY * uy, onY * ux - onX * uy, -1);
      }
      if (at === from || offX !== xs[at - 1] + outXs[at - 1] / 2 || offY !== ys[at - 1] + outYs[at - 1] / 2) {
        band.add(offX * ux + offY * uy, offY * ux - offX * uy, 1);
      }
    }
  }

  private wayTo(at: number): number {
    const { xs, ys } = this.trace;
    return Math.sqrt((xs[at] - xs[this.foot]) ** 2 + (ys[at] - ys[this.foot]) ** 2);
  }
}

/** Downhill from where the edge was met to its side nearest to the point. */
function footOf({ xs, ys, start, first, last }: EdgeTrace): number {
  const squared = (at: number) => xs[at] * xs[at] + ys[at] * ys[at];
  const around = (at: number) => squared(at - 1) + squared(at) + squared(at + 1);
  let foot = start;
  while (foot < last - 1 && around(foot + 1) < around(foot)) foot++;
  while (foot > first + 1 && around(foot - 1) < around(foot)) foot--;
  return foot;
}
