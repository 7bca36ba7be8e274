import { closePath, curveTo, moveTo, type PathLists, type PathRange } from './pathStore.ts';

/** A sub-path of straight pieces, `[x0, y0, x1, y1, …]`. */
export interface Polyline {
  readonly points: number[];
  readonly closed: boolean;
}

/**
 * The path as straight pieces that stray from it by at most `toleranceMm` (chord error of a cubic, bounded by its
 * second differences).
 */
export function flattenedPath(paths: PathLists, range: PathRange, toleranceMm: number): Polyline[] {
  const { verbs, coords } = paths;
  const out: Polyline[] = [];
  let points: number[] = [];
  let at = range.coordStart;
  const end = (closed: boolean) => {
    if (points.length >= 2) out.push({ points, closed });
  };
  for (let v = range.verbStart; v < range.verbEnd; v++) {
    const verb = verbs[v];
    if (verb === closePath) {
      const [x, y] = points;
      end(true);
      points = x === undefined ? [] : [x, y];
      if (v + 1 === range.verbEnd || verbs[v + 1] === moveTo) points = [];
    } else if (verb === moveTo) {
      end(false);
      points = [coords[at], coords[at + 1]];
      at += 2;
    } else if (verb === curveTo) {
      pushCurve(points, coords, at, toleranceMm);
      at += 6;
    } else {
      points.push(coords[at], coords[at + 1]);
      at += 2;
    }
  }
  end(false);
  return out;
}

function pushCurve(points: number[], coords: Float64Array, at: number, toleranceMm: number): void {
  const x0 = points[points.length - 2] ?? coords[at];
  const y0 = points[points.length - 1] ?? coords[at + 1];
  const x1 = coords[at];
  const y1 = coords[at + 1];
  const x2 = coords[at + 2];
  const y2 = coords[at + 3];
  const x3 = coords[at + 4];
  const y3 = coords[at + 5];
  const bend = Math.max(Math.hypot(x0 - 2 * x1 + x2, y0 - 2 * y1 + y2), Math.hypot(x1 - 2 * x2 + x3, y1 - 2 * y2 + y3));
  const pieces = Math.min(1000, Math.max(1, Math.ceil(Math.sqrt((0.75 * bend) / toleranceMm))));
  for (let k = 1; k <= pieces; k++) {
    const t = k / pieces;
    const u = 1 - t;
    const a = u * u * u;
    const b = 3 * u * u * t;
    const c = 3 * u * t * t;
    const d = t * t * t;
    points.push(a * x0 + b * x1 + c * x2 + d * x3, a * y0 + b * y1 + c * y2 + d * y3);
  }
}
