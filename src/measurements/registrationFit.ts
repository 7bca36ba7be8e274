import type { PointMm } from '../geometry/box.ts';
import type { PlateRegister } from './marks.ts';

/** A mark on the reference plate and the same mark on the plate compared. */
export interface MarkPair {
  readonly from: PointMm;
  readonly to: PointMm;
}

/** x' = a·x + c·y + e, y' = b·x + d·y + f, from the reference plate to the other. */
export interface Fit {
  readonly model: PlateRegister['model'];
  readonly a: number;
  readonly b: number;
  readonly c: number;
  readonly d: number;
  readonly e: number;
  readonly f: number;
}

/** Spare marks beyond those that settle the fit: without any its residual says nothing. */
export function spareMarks(model: Fit['model'], marks: number): number {
  return marks - (model === 'translation' ? 1 : model === 'similarity' ? 2 : 3);
}

export function fitTranslation(pairs: readonly MarkPair[]): Fit {
  const from = centroid(pairs.map((pair) => pair.from));
  const to = centroid(pairs.map((pair) => pair.to));
  return { model: 'translation', a: 1, b: 0, c: 0, d: 1, e: to.xMm - from.xMm, f: to.yMm - from.yMm };
}

/** Shift, rotation and one scale by least squares: points as complex numbers, z' = p·z + q. Null for one place only. */
export function fitSimilarity(pairs: readonly MarkPair[]): Fit | null {
  const from = centroid(pairs.map((pair) => pair.from));
  const to = centroid(pairs.map((pair) => pair.to));
  let spread = 0;
  let real = 0;
  let imaginary = 0;
  for (const pair of pairs) {
    const x = pair.from.xMm - from.xMm;
    const y = pair.from.yMm - from.yMm;
    const u = pair.to.xMm - to.xMm;
    const v = pair.to.yMm - to.yMm;
    spread += x * x + y * y;
    real += x * u + y * v;
    imaginary += x * v - y * u;
  }
  if (spread < 1) return null;
  const p = real / spread;
  const q = imaginary / spread;
  return centred('similarity', p, q, -q, p, from, to);
}

/** Shift and rotation alone, which is what can be done to a film on the bench. */
export function fitRigid(pairs: readonly MarkPair[]): Fit {
  const similar = fitSimilarity(pairs);
  if (similar === null) return fitTranslation(pairs);
  const size = Math.hypot(similar.a, similar.b);
  const from = centroid(pairs.map((pair) => pair.from));
  const to = centroid(pairs.map((pair) => pair.to));
  const [a, b] = [similar.a / size, similar.b / size];
  return centred('similarity', a, b, -b, a, from, to);
}

/** Any affine transform by least squares; null when the marks lie on one line. */
export function fitAffine(pairs: readonly MarkPair[]): Fit | null {
  const from = centroid(pairs.map((pair) => pair.from));
  const to = centroid(pairs.map((pair) => pair.to));
  let xx = 0;
  let xy = 0;
  let yy = 0;
  let xu = 0;
  let yu = 0;
  let xv = 0;
  let yv = 0;
  for (const pair of pairs) {
    const x = pair.from.xMm - from.xMm;
    const y = pair.from.yMm - from.yMm;
    const u = pair.to.xMm - to.xMm;
    const v = pair.to.yMm - to.yMm;
    xx += x * x;
    xy += x * y;
    yy += y * y;
    xu += x * u;
    yu += y * u;
    xv += x * v;
    yv += y * v;
  }
  const det = xx * yy - xy * xy;
  if (det < 1e-4 * (xx + yy) ** 2) return null;
  return centred(
    'affine',
    (xu * yy - yu * xy) / det,
    (xv * yy - yv * xy) / det,
    (yu * xx - xu * xy) / det,
    (yv * xx - xv * xy) / det,
    from,
    to,
  );
}

/** How far the scales of a fit may be off, as shares, and its turn, in radians. */
export interface FitErrors {
  /** That of the axis that is known less. */
  readonly scale: number;
  readonly turnRad: number;
}

/**
 * What the marks' own errors, up to `plusMinusMm` each and independent of each other, do to the scales and the turn of a
 * least-squares fit: the law of propagation of uncertainty, JCGM 100:2008, 5.1.2. Null for marks at one place, and where a
 * scale each way was fitted for marks on one line.
 */
export function fitErrors(
  model: 'similarity' | 'affine',
  pairs: readonly { readonly from: PointMm; readonly plusMinusMm: number }[],
): FitErrors | null {
  const middle = centroid(pairs.map(({ from }) => from));
  const marks = pairs.map(({ from, plusMinusMm }) => ({
    x: from.xMm - middle.xMm,
    y: from.yMm - middle.yMm,
    plusMinusMm,
  }));
  const total = (of: (mark: (typeof marks)[number]) => number) => marks.reduce((sum, mark) => sum + of(mark), 0);
  const [xx, xy, yy] = [total(({ x }) => x * x), total(({ x, y }) => x * y), total(({ y }) => y * y)];
  if (xx + yy < 1) return null;
  if (model === 'similarity') {
    const each = Math.sqrt(total(({ x, y, plusMinusMm }) => (x * x + y * y) * plusMinusMm ** 2)) / (xx + yy);
    return { scale: each, turnRad: each };
  }
  const det = xx * yy - xy * xy;
  if (det < 1e-4 * (xx + yy) ** 2) return null;
  const alongX = Math.sqrt(total(({ x, y, plusMinusMm }) => (((x * yy - y * xy) / det) * plusMinusMm) ** 2));
  const alongY = Math.sqrt(total(({ x, y, plusMinusMm }) => (((y * xx - x * xy) / det) * plusMinusMm) ** 2));
  return { scale: Math.max(alongX, alongY), turnRad: Math.hypot(alongX, alongY) / 2 };
}

function centred(model: Fit['model'], a: number, b: number, c: number, d: number, from: PointMm, to: PointMm): Fit {
  return {
    model,
    a,
    b,
    c,
    d,
    e: to.xMm - a * from.xMm - c * from.yMm,
    f: to.yMm - b * from.xMm - d * from.yMm,
  };
}

export function fitted(fit: Fit, point: PointMm): PointMm {
  return {
    xMm: fit.a * point.xMm + fit.c * point.yMm + fit.e,
    yMm: fit.b * point.xMm + fit.d * point.yMm + fit.f,
  };
}

/** The reverse of `fitted`. */
export function unfitted(fit: Fit, point: PointMm): PointMm {
  const det = fit.a * fit.d - fit.b * fit.c;
  const x = point.xMm - fit.e;
  const y = point.yMm - fit.f;
  return { xMm: (fit.d * x - fit.c * y) / det, yMm: (fit.a * y - fit.b * x) / det };
}

/** What the fit leaves of a pair: where the mark lies from where it should. */
export function leftOver(fit: Fit, pair: MarkPair): { dxMm: number; dyMm: number } {
  const should = fitted(fit, pair.from);
  return { dxMm: pair.to.xMm - should.xMm, dyMm: pair.to.yMm - should.yMm };
}

export function largestLeftMm(fit: Fit, pairs: readonly MarkPair[]): number {
  let most = 0;
  for (const pair of pairs) {
    const { dxMm, dyMm } = leftOver(fit, pair);
    most = Math.max(most, Math.hypot(dxMm, dyMm));
  }
  return most;
}

/** Rotation of a fit, degrees counter-clockwise as seen with y down: that of the nearest similarity. */
export function rotationDegOf(fit: Fit): number {
  return (-Math.atan2(fit.b - fit.c, fit.a + fit.d) * 180) / Math.PI;
}

/** Linear scale of a fit: the square root of the factor on areas. */
export function scaleOf(fit: Fit): number {
  return Math.sqrt(Math.abs(fit.a * fit.d - fit.b * fit.c));
}

export function centroid(points: readonly PointMm[]): PointMm {
  let xMm = 0;
  let yMm = 0;
  for (const point of points) {
    xMm += point.xMm / points.length;
    yMm += point.yMm / points.length;
  }
  return { xMm, yMm };
}

/** Stretch along x and along y, and how far the axes are from a right angle, in degrees. */
export function stretchOf({ a, b, c, d }: Fit): { scaleX: number; scaleY: number; skewDeg: number } {
  const opened = Math.atan2(d, c) - Math.atan2(b, a);
  return { scaleX: Math.hypot(a, b), scaleY: Math.hypot(c, d), skewDeg: (opened * 180) / Math.PI - 90 };
}
