import { flattenedPath, type Polyline } from './flattenedPath.ts';
import { determinant, inverted, type Matrix, transformed } from './matrix.ts';
import { closePath, lineTo, moveTo, type PathLists, type PathRange, type PathStore } from './pathStore.ts';
import type { Pen } from './pen.ts';

const maxDashes = 200_000;

/**
 * The area a pen covers along a path, as convex pieces of one turning sense: their union under the non-zero rule is
 * the stroke (ISO 32000-1, 8.4.3 and 8.5.3.2: caps, joins, mitre limit, dashes, pen shape under a skewed transform).
 * `toleranceMm` bounds the chord error of curves, `roundToleranceMm` that of round ends. The pieces are put into `into`.
 */
export function strokeOutline(
  paths: PathLists,
  path: PathRange,
  pen: Pen,
  toleranceMm: number,
  into: PathStore,
  roundToleranceMm = toleranceMm,
): PathRange {
  const back = inverted(pen.matrix);
  const lines = back ? flattenedPath(paths, path, toleranceMm) : [];
  const out = new PieceWriter(into, pen.matrix, pen.width / 2, roundToleranceMm);
  for (const line of lines) {
    const points: number[] = [];
    for (let k = 0; k < line.points.length; k += 2) {
      const [x, y] = transformed(back!, line.points[k], line.points[k + 1]);
      const last = points.length;
      if (last === 0 || points[last - 2] !== x || points[last - 1] !== y) points.push(x, y);
    }
    const first = points.length;
    if (line.closed && first > 4 && points[0] === points[first - 2] && points[1] === points[first - 1])
      points.length -= 2;
    const whole: Polyline = { points, closed: line.closed };
    for (const part of pen.dash.length > 0 ? dashed(whole, pen) : [whole]) strokePart(out, part, pen);
  }
  return into.take();
}

function strokePart(out: PieceWriter, { points, closed }: Polyline, pen: Pen): void {
  const count = points.length / 2;
  if (count === 1) {
    // A sub-path of one point shows round and square caps only.
    if (pen.cap === 1) out.disc(points[0], points[1]);
    else if (pen.cap === 2) out.bar(points[0] - pen.width / 2, points[1], points[0] + pen.width / 2, points[1]);
    return;
  }
  const ring = closed && count > 2;
  const segments = ring ? count : count - 1;
  for (let k = 0; k < segments; k++) {
    const a = k;
    const b = (k + 1) % count;
    let [x0, y0, x1, y1] = [points[2 * a], points[2 * a + 1], points[2 * b], points[2 * b + 1]];
    const length = Math.hypot(x1 - x0, y1 - y0);
    const dx = ((x1 - x0) / length) * (pen.width / 2);
    const dy = ((y1 - y0) / length) * (pen.width / 2);
    if (!ring && pen.cap === 2 && k === 0) [x0, y0] = [x0 - dx, y0 - dy];
    if (!ring && pen.cap === 2 && k === segments - 1) [x1, y1] = [x1 + dx, y1 + dy];
    out.bar(x0, y0, x1, y1);
    if (ring || k < segments - 1) {
      const c = (k + 2) % count;
      out.join(points, a, b, c, pen);
    }
  }
  if (!ring && pen.cap === 1) {
    out.disc(points[0], points[1]);
    out.disc(points[2 * count - 2], points[2 * count - 1]);
  }
}

function dashed({ points, closed }: Polyline, pen: Pen): Polyline[] {
  const whole = closed ? [...points, points[0], points[1]] : points;
  const period = pen.dash.reduce((sum, v) => sum + v, 0);
  let total = 0;
  for (let k = 2; k < whole.length; k += 2) total += Math.hypot(whole[k] - whole[k - 2], whole[k + 1] - whole[k - 1]);
  if (!(period > 0) || (total / period) * pen.dash.length > maxDashes) return [{ points, closed }];
  let index = 0;
  let left = pen.dash[0];
  let skip = pen.dashPhase % (period * 2);
  if (skip < 0) skip += period * 2;
  // A dash of no length at the very beginning still shows its caps.
  while (skip > left || (skip === left && left > 0)) {
    skip -= left;
    index++;
    left = pen.dash[index % pen.dash.length];
  }
  left -= skip;
  const parts: Polyline[] = [];
  let current: number[] | null = index % 2 === 0 ? [whole[0], whole[1]] : null;
  for (let k = 2; k < whole.length; k += 2) {
    let [x, y] = [whole[k - 2], whole[k - 1]];
    let rest = Math.hypot(whole[k] - x, whole[k + 1] - y);
    while (rest > left) {
      const t = left / rest;
      x += (whole[k] - x) * t;
      y += (whole[k + 1] - y) * t;
      rest -= left;
      if (current) {
        current.push(x, y);
        parts.push({ points: current, closed: false });
        current = null;
      } else current = [x, y];
      index++;
      left = pen.dash[index % pen.dash.length];
      if (left === 0 && rest === 0) break;
    }
    left -= rest;
    current?.push(whole[k], whole[k + 1]);
  }
  if (current && current.length >= 4) parts.push({ points: current, closed: false });
  return parts;
}

/** Writes convex pieces, turned so that all of them wind the same way in film space. */
class PieceWriter {
  private readonly store: PathStore;
  private readonly matrix: Matrix;
  private readonly radius: number;
  private readonly tolerance: number;
  private readonly discSides: number;

  constructor(store: PathStore, matrix: Matrix, radius: number, toleranceMm: number) {
    this.store = store;
    this.matrix = matrix;
    this.radius = radius;
    this.tolerance = toleranceMm / Math.sqrt(Math.abs(determinant(matrix)) || 1);
    const ratio = Math.min(1, this.tolerance / Math.max(radius, 1e-9));
    this.discSides = Math.max(8, Math.min(256, Math.ceil(Math.PI / Math.acos(1 - ratio * 0.999))));
  }

  bar(x0: number, y0: number, x1: number, y1: number): void {
    const length = Math.hypot(x1 - x0, y1 - y0);
    if (!(length > 0)) return;
    const nx = (-(y1 - y0) / length) * this.radius;
    const ny = ((x1 - x0) / length) * this.radius;
    this.piece([x0 + nx, y0 + ny, x0 - nx, y0 - ny, x1 - nx, y1 - ny, x1 + nx, y1 + ny]);
  }

  disc(x: number, y: number): void {
    const points: number[] = [];
    for (let k = 0; k < this.discSides; k++) {
      const angle = (2 * Math.PI * k) / this.discSides;
      points.push(x + this.radius * Math.cos(angle), y + this.radius * Math.sin(angle));
    }
    this.piece(points);
  }

  /** The join at point b between the segments a–b and b–c. */
  join(points: readonly number[], a: number, b: number, c: number, pen: Pen): void {
    const [bx, by] = [points[2 * b], points[2 * b + 1]];
    const before = Math.atan2(by - points[2 * a + 1], bx - points[2 * a]);
    const after = Math.atan2(points[2 * c + 1] - by, points[2 * c] - bx);
    let turn = after - before;
    while (turn > Math.PI) turn -= 2 * Math.PI;
    while (turn < -Math.PI) turn += 2 * Math.PI;
    if (Math.abs(turn) < 1e-4) return;
    const half = Math.cos(turn / 2);
    // Where a curve was flattened its tangents are as good as the round join.
    const isFlattened = half > 0 && this.radius * (1 / half - 1) <= this.tolerance;
    if (pen.join === 1 && !isFlattened) {
      this.disc(bx, by);
      return;
    }
    const side = turn > 0 ? -1 : 1;
    const r = this.radius * side;
    const p0 = [bx - Math.sin(before) * r, by + Math.cos(before) * r];
    const p1 = [bx - Math.sin(after) * r, by + Math.cos(after) * r];
    if (isFlattened || (pen.join === 0 && half > 1e-6 && 1 / half <= pen.miterLimit)) {
      const middle = before + turn / 2;
      const reach = r / half;
      this.piece([bx, by, p0[0], p0[1], bx - Math.sin(middle) * reach, by + Math.cos(middle) * reach, p1[0], p1[1]]);
    } else this.piece([bx, by, p0[0], p0[1], p1[0], p1[1]]);
  }

  private piece(points: readonly number[]): void {
    const film: number[] = [];
    for (let k = 0; k < points.length; k += 2) film.push(...transformed(this.matrix, points[k], points[k + 1]));
    let area = 0;
    const count = film.length / 2;
    for (let k = 0; k < count; k++) {
      const next = (k + 1) % count;
      area += film[2 * k] * film[2 * next + 1] - film[2 * next] * film[2 * k + 1];
    }
    for (let k = 0; k < count; k++) {
      const at = area >= 0 ? k : count - 1 - k;
      this.store.add(k === 0 ? moveTo : lineTo, film[2 * at], film[2 * at + 1]);
    }
    this.store.add(closePath);
  }
}
