import type { Contour } from './overlapContour.ts';

/** Tells whether there is ink at a point of film space: 1 or 0. */
export type InkAt = (xMm: number, yMm: number) => number;

export interface ProfileSetting {
  readonly pitchXMm: number;
  readonly pitchYMm: number;
  readonly reachMm: number;
  /** Ink of the plate whose outline is walked, and of the other. */
  readonly own: InkAt;
  readonly other: InkAt;
  /** False where an outline must not be measured: screened areas, the border of the film. */
  readonly countsAt: (xMm: number, yMm: number) => boolean;
  /** Whether a gap at this point is no gap: another plate prints there. */
  readonly coveredAt: InkAt | null;
}

/**
 * Readings along an outline. `overlapMm` is measured across the edge: positive where the other ink reaches in, negative
 * over a gap, NaN where the other has no facing edge within reach.
 */
export interface Profile {
  readonly length: number;
  readonly closed: boolean;
  readonly xMm: Float64Array;
  readonly yMm: Float64Array;
  /** Outward normal. */
  readonly normalX: Float64Array;
  readonly normalY: Float64Array;
  readonly stepMm: Float64Array;
  /** Turn of the outline per sample, radians; positive where the ink is convex. */
  readonly turn: Float64Array;
  readonly corner: Uint8Array;
  readonly overlapMm: Float64Array;
}

const smoothSides = 4;
const chordSides = 6;
const cornerTurn = (40 * Math.PI) / 180;
const cornerMarginSides = 5;
/** Readings every so many pixel sides. */
const stride = 2;
const shortestContour = 12;
/** Outlines of fewer pixel sides than this shrink noticeably when smoothed. */
const smallContour = 240;

/** Reads the other plate's edge across every second pixel side of an outline, or null when it is a mere speck. */
export function profileContour(contour: Contour, setting: ProfileSetting): Profile | null {
  const n = contour.length;
  if (n < shortestContour) return null;
  const { closed } = contour;
  const xs = smoothed(contour.columns, n, closed, setting.pitchXMm);
  const ys = smoothed(contour.rows, n, closed, setting.pitchYMm);
  if (closed && n < smallContour) undoShrinking(xs, ys, n);
  const index = (i: number): number => (closed ? (i + n) % n : i < 0 ? 0 : i >= n ? n - 1 : i);
  const corners = markCorners(xs, ys, n, closed, index);

  const length = Math.floor(n / stride);
  const profile: Profile = {
    length,
    closed,
    xMm: new Float64Array(length),
    yMm: new Float64Array(length),
    normalX: new Float64Array(length),
    normalY: new Float64Array(length),
    stepMm: new Float64Array(length),
    turn: new Float64Array(length),
    corner: new Uint8Array(length),
    overlapMm: new Float64Array(length),
  };
  for (let s = 0; s < length; s++) {
    const i = s * stride;
    const before = index(i - smoothSides);
    const after = index(i + smoothSides);
    const dx = xs[after] - xs[before];
    const dy = ys[after] - ys[before];
    const chord = Math.hypot(dx, dy) || 1;
    const next = index(s === length - 1 ? (closed ? 0 : n - 1) : i + stride);
    profile.xMm[s] = xs[i];
    profile.yMm[s] = ys[i];
    profile.normalX[s] = dy / chord;
    profile.normalY[s] = -dx / chord;
    profile.stepMm[s] = Math.hypot(xs[next] - xs[i], ys[next] - ys[i]);
    profile.corner[s] = corners[i];
  }
  for (let s = 0; s < length; s++) {
    const next = s + 1 < length ? s + 1 : closed ? 0 : s;
    const cross = profile.normalX[s] * profile.normalY[next] - profile.normalY[s] * profile.normalX[next];
    const dot = profile.normalX[s] * profile.normalX[next] + profile.normalY[s] * profile.normalY[next];
    profile.turn[s] = Math.atan2(cross, dot);
    profile.overlapMm[s] = setting.countsAt(profile.xMm[s], profile.yMm[s])
      ? readAcross(setting, profile.xMm[s], profile.yMm[s], profile.normalX[s], profile.normalY[s])
      : Number.NaN;
  }
  return profile;
}

/** Running mean over `2·smoothSides + 1` sides (shorter at the ends of an open piece), in mm. */
function smoothed(values: Float64Array, n: number, closed: boolean, scale: number): Float64Array {
  const out = new Float64Array(n);
  if (closed) {
    let sum = 0;
    for (let i = -smoothSides; i <= smoothSides; i++) sum += values[(i + n) % n];
    for (let i = 0; i < n; i++) {
      out[i] = (sum * scale) / (2 * smoothSides + 1);
      sum += values[(i + smoothSides + 1) % n] - values[(i - smoothSides + n) % n];
    }
    return out;
  }
  for (let i = 0; i < n; i++) {
    const reach = Math.min(smoothSides, i, n - 1 - i);
    let sum = 0;
    for (let j = i - reach; j <= i + reach; j++) sum += values[j];
    out[i] = (sum * scale) / (2 * reach + 1);
  }
  return out;
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
    const next = (i + 1) % n;
    lengthMm += Math.hypot(xs[next] - xs[i], ys[next] - ys[i]);
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

function markCorners(
  xs: Float64Array,
  ys: Float64Array,
  n: number,
  closed: boolean,
  index: (i: number) => number,
): Uint8Array {
  const corners = new Uint8Array(n);
  const cosine = Math.cos(cornerTurn);
  const first = closed ? 0 : chordSides;
  const end = closed ? n : n - chordSides;
  for (let i = first; i < end; i++) {
    const before = index(i - chordSides);
    const after = index(i + chordSides);
    const ax = xs[i] - xs[before];
    const ay = ys[i] - ys[before];
    const bx = xs[after] - xs[i];
    const by = ys[after] - ys[i];
    if (ax * bx + ay * by >= cosine * Math.hypot(ax, ay) * Math.hypot(bx, by)) continue;
    for (let j = i - cornerMarginSides; j <= i + cornerMarginSides; j++) corners[index(j)] = 1;
  }
  return corners;
}

/**
 * Goes across the edge along its outward normal to the other ink's facing edge.
 * Inwards both inks must print all the way, outwards neither may: otherwise one merely lies over the other.
 */
function readAcross(setting: ProfileSetting, x: number, y: number, normalX: number, normalY: number): number {
  const { own, other, reachMm } = setting;
  // A step of about one pixel along the normal, whatever the two pitches.
  const step = 1 / Math.hypot(normalX / setting.pitchXMm, normalY / setting.pitchYMm);
  const near = 0.75 * step;
  const outside = other(x + near * normalX, y + near * normalY);
  const inside = other(x - near * normalX, y - near * normalY);
  if (outside === 1 && inside === 0) return -crossing(other, x, y, normalX, normalY, -near, near);
  if (outside === 1) {
    for (let s = near + step; s <= reachMm + step; s += step) {
      const px = x - s * normalX;
      const py = y - s * normalY;
      if (other(px, py) === 0) {
        const depth = -crossing(other, x, y, normalX, normalY, -s, step - s);
        // Ink that ends where the other ends lies over it with a flush edge.
        const beyond = depth + step;
        return depth <= reachMm && own(x - beyond * normalX, y - beyond * normalY) === 1 ? depth : Number.NaN;
      }
      if (own(px, py) === 0) return Number.NaN;
    }
    return Number.NaN;
  }
  if (inside === 1) return Number.NaN;
  for (let s = near + step; s <= reachMm + step; s += step) {
    const px = x + s * normalX;
    const py = y + s * normalY;
    if (other(px, py) === 1) {
      const gap = crossing(other, x, y, normalX, normalY, s - step, s);
      if (gap > reachMm) return Number.NaN;
      return setting.coveredAt !== null && isCovered(setting.coveredAt, x, y, normalX, normalY, gap)
        ? Number.NaN
        : -gap;
    }
    if (own(px, py) === 1) return Number.NaN;
  }
  return Number.NaN;
}

/** Where the other ink begins between `from` (clear) and `to` (ink) along the normal, to a 32nd of that span. */
function crossing(
  other: InkAt,
  x: number,
  y: number,
  normalX: number,
  normalY: number,
  from: number,
  to: number,
): number {
  let clear = from;
  let ink = to;
  for (let i = 0; i < 5; i++) {
    const middle = (clear + ink) / 2;
    if (other(x + middle * normalX, y + middle * normalY) === 1) ink = middle;
    else clear = middle;
  }
  return (clear + ink) / 2;
}

function isCovered(covers: InkAt, x: number, y: number, normalX: number, normalY: number, gapMm: number): boolean {
  for (const share of [0.2, 0.5, 0.8]) {
    if (covers(x + share * gapMm * normalX, y + share * gapMm * normalY) === 0) return false;
  }
  return true;
}
