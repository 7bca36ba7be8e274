import type { Contour } from './overlapContour.ts';
import type { Crossing } from './overlapReading.ts';

export interface ProfileSetting {
  readonly pitchXMm: number;
  readonly pitchYMm: number;
  readonly crossing: Crossing;
  /** False where an outline must not be measured: screened areas, the border of the film. */
  readonly countsAt: (xMm: number, yMm: number) => boolean;
}

/**
 * Readings along an outline. `overlapMm` is measured across the edge: positive where the other ink reaches in, negative
 * over a gap, NaN where the other has no facing edge within reach.
 */
export interface Profile {
  readonly length: number;
  /** How many of the readings are not NaN. */
  readonly readingCount: number;
  readonly closed: boolean;
  readonly xMm: Float64Array;
  readonly yMm: Float64Array;
  /** Outward normal. */
  readonly normalX: Float64Array;
  readonly normalY: Float64Array;
  readonly stepMm: Float64Array;
  readonly corner: Uint8Array;
  readonly overlapMm: Float64Array;
  /** Width of the outline's ink where all of it lies on the other, else NaN; only when strips are sought. */
  readonly stripMm: Float64Array;
}

const smoothSides = 4;
const chordSides = 6;
const cornerCosine = Math.cos((40 * Math.PI) / 180);
const cornerMarginSides = 5;
/** Readings every so many pixel sides. */
const stride = 2;
const coarseStride = 4;
const shortestContour = 12;
/** Outlines of fewer pixel sides than this shrink noticeably when smoothed. */
const smallContour = 240;

/** Reads the other plate's edge across every second pixel side of outlines. The arrays are used again for the next. */
export class Profiler implements Profile {
  length = 0;
  readingCount = 0;
  closed = false;
  xMm = new Float64Array(0);
  yMm = new Float64Array(0);
  normalX = new Float64Array(0);
  normalY = new Float64Array(0);
  stepMm = new Float64Array(0);
  corner = new Uint8Array(0);
  overlapMm = new Float64Array(0);
  stripMm = new Float64Array(0);
  private readonly setting: ProfileSetting;
  /** The outline smoothed, in mm, and which of its sides are at a corner. */
  private xs = new Float64Array(0);
  private ys = new Float64Array(0);
  private corners = new Uint8Array(0);

  constructor(setting: ProfileSetting) {
    this.setting = setting;
  }

  /** The readings along an outline, or null when it is a mere speck. */
  profile(contour: Contour): Profile | null {
    const n = contour.length;
    if (n < shortestContour) return null;
    this.reserve(n);
    this.closed = contour.closed;
    const { xs, ys, closed } = this;
    smooth(contour.columns, n, closed, this.setting.pitchXMm, xs);
    smooth(contour.rows, n, closed, this.setting.pitchYMm, ys);
    if (closed && n < smallContour) undoShrinking(xs, ys, n);
    markCorners(xs, ys, n, closed, this.corners);
    this.length = Math.floor(n / stride);
    this.takeNormals(n);
    this.readAll();
    return this;
  }

  private reserve(sides: number): void {
    if (this.xs.length >= sides) return;
    const room = 2 * sides;
    this.xs = new Float64Array(room);
    this.ys = new Float64Array(room);
    this.corners = new Uint8Array(room);
    this.xMm = new Float64Array(sides);
    this.yMm = new Float64Array(sides);
    this.normalX = new Float64Array(sides);
    this.normalY = new Float64Array(sides);
    this.stepMm = new Float64Array(sides);
    this.corner = new Uint8Array(sides);
    this.overlapMm = new Float64Array(sides);
    this.stripMm = new Float64Array(sides);
  }

  private takeNormals(n: number): void {
    const { xs, ys, corners, closed, length } = this;
    for (let s = 0; s < length; s++) {
      const i = s * stride;
      const before = sideAt(i - smoothSides, n, closed);
      const after = sideAt(i + smoothSides, n, closed);
      const dx = xs[after] - xs[before];
      const dy = ys[after] - ys[before];
      const chord = Math.sqrt(dx * dx + dy * dy) || 1;
      const next = s === length - 1 ? (closed ? 0 : n - 1) : i + stride;
      const stepX = xs[next] - xs[i];
      const stepY = ys[next] - ys[i];
      this.xMm[s] = xs[i];
      this.yMm[s] = ys[i];
      this.normalX[s] = dy / chord;
      this.normalY[s] = -dx / chord;
      this.stepMm[s] = Math.sqrt(stepX * stepX + stepY * stepY);
      this.corner[s] = corners[i];
    }
  }

  /**
   * Takes every fourth reading first, and of those between only what stands beside one: fewer than four readings in a
   * row are no boundary.
   */
  private readAll(): void {
    const { length, closed } = this;
    this.readingCount = 0;
    for (let s = 0; s < length; s += coarseStride) this.readAt(s);
    for (let s = 0; s < length; s += coarseStride) {
      const next = s + coarseStride;
      const isFaced = this.isFacedAt(s) || (next < length ? this.isFacedAt(next) : closed && this.isFacedAt(0));
      for (let between = s + 1; between < next && between < length; between++) {
        if (isFaced) this.readAt(between);
        else this.leaveOut(between);
      }
    }
  }

  private isFacedAt(s: number): boolean {
    return !Number.isNaN(this.overlapMm[s]) || !Number.isNaN(this.stripMm[s]);
  }

  private readAt(s: number): void {
    const x = this.xMm[s];
    const y = this.yMm[s];
    const { crossing, countsAt } = this.setting;
    if (!countsAt(x, y)) {
      this.leaveOut(s);
      return;
    }
    const overlapMm = crossing.read(x, y, this.normalX[s], this.normalY[s]);
    this.overlapMm[s] = overlapMm;
    this.stripMm[s] = crossing.stripMm;
    if (!Number.isNaN(overlapMm)) this.readingCount++;
  }

  private leaveOut(s: number): void {
    this.overlapMm[s] = Number.NaN;
    this.stripMm[s] = Number.NaN;
  }
}

function sideAt(i: number, n: number, closed: boolean): number {
  if (i < 0) return closed ? i + n : 0;
  return i < n ? i : closed ? i - n : n - 1;
}

/** Running mean over `2·smoothSides + 1` sides (shorter at the ends of an open piece), in mm. */
function smooth(values: Float64Array, n: number, closed: boolean, scale: number, out: Float64Array): void {
  const sides = 2 * smoothSides + 1;
  let sum = 0;
  if (closed) {
    for (let i = -smoothSides; i <= smoothSides; i++) sum += values[(i + n) % n];
    for (let i = 0; i < n; i++) {
      out[i] = (sum * scale) / sides;
      const leaving = i - smoothSides;
      const coming = i + smoothSides + 1;
      sum += values[coming < n ? coming : coming - n] - values[leaving < 0 ? leaving + n : leaving];
    }
    return;
  }
  for (let i = 0; i < sides; i++) sum += values[i];
  for (let i = smoothSides; i < n - smoothSides; i++) {
    out[i] = (sum * scale) / sides;
    sum += values[i + smoothSides + 1] - values[i - smoothSides];
  }
  for (let reach = 0; reach < smoothSides; reach++) {
    const end = n - 1 - reach;
    out[reach] = (sumAround(values, reach, reach) * scale) / (2 * reach + 1);
    out[end] = (sumAround(values, end, reach) * scale) / (2 * reach + 1);
  }
}

function sumAround(values: Float64Array, middle: number, reach: number): number {
  let sum = 0;
  for (let i = middle - reach; i <= middle + reach; i++) sum += values[i];
  return sum;
}

/**
 * A running mean over an arc of half length h draws a circle of radius R in by h²/6R: grows a small outline back by
 * that, about its middle, with the R of a circle as long.
 */
function undoShrinking(xs: Float64Array, ys: Float64Array, n: number): void {
  let lengthMm = 0;
  let middleX = 0;
  let middleY = 0;
  for (let i = 0; i < n; i++) {
    const next = i + 1 < n ? i + 1 : 0;
    const dx = xs[next] - xs[i];
    const dy = ys[next] - ys[i];
    lengthMm += Math.sqrt(dx * dx + dy * dy);
    middleX += xs[i] / n;
    middleY += ys[i] / n;
  }
  const radiusMm = lengthMm / (2 * Math.PI);
  const halfArcMm = ((smoothSides + 0.5) * lengthMm) / n;
  const grow = 1 + halfArcMm ** 2 / (6 * radiusMm ** 2);
  for (let i = 0; i < n; i++) {
    xs[i] = middleX + grow * (xs[i] - middleX);
    ys[i] = middleY + grow * (ys[i] - middleY);
  }
}

/** Marks the sides at which the outline turns by more than 40° from chord to chord, and those beside them. */
function markCorners(xs: Float64Array, ys: Float64Array, n: number, closed: boolean, corners: Uint8Array): void {
  corners.fill(0, 0, n);
  const squaredCosine = cornerCosine * cornerCosine;
  const end = closed ? n : n - chordSides;
  for (let i = closed ? 0 : chordSides; i < end; i++) {
    const before = i < chordSides ? i - chordSides + n : i - chordSides;
    const after = i + chordSides < n ? i + chordSides : i + chordSides - n;
    const ax = xs[i] - xs[before];
    const ay = ys[i] - ys[before];
    const bx = xs[after] - xs[i];
    const by = ys[after] - ys[i];
    const dot = ax * bx + ay * by;
    if (dot >= 0 && dot * dot >= squaredCosine * (ax * ax + ay * ay) * (bx * bx + by * by)) continue;
    for (let j = i - cornerMarginSides; j <= i + cornerMarginSides; j++) corners[sideAt(j, n, closed)] = 1;
  }
}
