import { flattenedPath } from './flattenedPath.ts';
import type { PathLists, PathRange } from './pathStore.ts';

/** Closed rings of straight edges in film mm: ring k has the points `starts[k]` up to `starts[k + 1]`. */
export interface Rings {
  /** x0, y0, x1, y1, … */
  readonly points: Float64Array;
  readonly starts: Int32Array;
  /** Left, top, right, bottom of each ring. */
  readonly boxes: Float64Array;
  readonly evenOdd: boolean;
}

/** A straight way through a point: `dx`, `dy` has length 1, and places on it are told by their way `t` from the point. */
export interface Line {
  readonly xMm: number;
  readonly yMm: number;
  readonly dx: number;
  readonly dy: number;
  /** Only places with −reach ≤ t ≤ reach are of interest. */
  readonly reachMm: number;
}

/** Direction of an edge where a line meets it, of length 1. */
export interface EdgeDirection {
  readonly dx: number;
  readonly dy: number;
}

/** A part of a line; null where it does not end at an edge but goes on beyond the reach. */
export interface Span {
  readonly fromMm: number;
  readonly toMm: number;
  readonly fromEdge: EdgeDirection | null;
  readonly toEdge: EdgeDirection | null;
}

/** The rings a path fills; open sub-paths are closed by a straight edge. No point strays further than the tolerance. */
export function ringsOf(paths: PathLists, path: PathRange, evenOdd: boolean, toleranceMm: number): Rings {
  const lines = flattenedPath(paths, path, toleranceMm).filter(({ points }) => points.length >= 6);
  const starts = new Int32Array(lines.length + 1);
  const boxes = new Float64Array(4 * lines.length);
  lines.forEach(({ points }, ring) => {
    starts[ring + 1] = starts[ring] + points.length / 2;
  });
  const all = new Float64Array(2 * starts[lines.length]);
  lines.forEach(({ points }, ring) => {
    all.set(points, 2 * starts[ring]);
    let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity];
    for (let k = 0; k < points.length; k += 2) {
      left = Math.min(left, points[k]);
      right = Math.max(right, points[k]);
      top = Math.min(top, points[k + 1]);
      bottom = Math.max(bottom, points[k + 1]);
    }
    boxes.set([left, top, right, bottom], 4 * ring);
  });
  return { points: all, starts, boxes, evenOdd };
}

interface Crossing {
  readonly t: number;
  readonly turn: 1 | -1;
  /** First point of the edge, and the second. */
  readonly from: number;
  readonly to: number;
}

/** The parts of a line that lie inside the rings, from one end to the other. */
export function spansInside(rings: Rings, line: Line): Span[] {
  const crossings: Crossing[] = [];
  for (let ring = 0; ring < rings.starts.length - 1; ring++) {
    if (mayMeet(rings, ring, line)) collectCrossings(rings, ring, line, crossings);
  }
  crossings.sort((a, b) => a.t - b.t);
  const spans: Span[] = [];
  const { reachMm } = line;
  let winding = 0;
  let entered: Crossing | null = null;
  for (const crossing of crossings) {
    const before = isInside(winding, rings.evenOdd);
    winding += crossing.turn;
    const after = isInside(winding, rings.evenOdd);
    if (!before && after) entered = crossing;
    if (!before || after || entered === null) continue;
    if (crossing.t <= -reachMm || entered.t >= reachMm) continue;
    spans.push({
      fromMm: Math.max(-reachMm, entered.t),
      toMm: Math.min(reachMm, crossing.t),
      fromEdge: entered.t > -reachMm ? directionOf(rings, entered) : null,
      toEdge: crossing.t < reachMm ? directionOf(rings, crossing) : null,
    });
  }
  return spans;
}

/** An edge near a point: how far away, and the direction square to it, of length 1. */
export interface NearEdge {
  readonly awayMm: number;
  readonly dx: number;
  readonly dy: number;
}

/** Collects the edges no further from a point than the reach. */
export function collectEdgesNear(
  { points, starts, boxes }: Rings,
  xMm: number,
  yMm: number,
  reachMm: number,
  into: NearEdge[],
): void {
  for (let ring = 0; ring < starts.length - 1; ring++) {
    if (boxes[4 * ring] > xMm + reachMm || boxes[4 * ring + 2] < xMm - reachMm) continue;
    if (boxes[4 * ring + 1] > yMm + reachMm || boxes[4 * ring + 3] < yMm - reachMm) continue;
    const last = starts[ring + 1] - 1;
    for (let from = last, to = starts[ring]; to <= last; from = to++) {
      const alongX = points[2 * to] - points[2 * from];
      const alongY = points[2 * to + 1] - points[2 * from + 1];
      const length = Math.hypot(alongX, alongY);
      if (length === 0) continue;
      const aheadMm = ((xMm - points[2 * from]) * alongX + (yMm - points[2 * from + 1]) * alongY) / length;
      const beyondMm = Math.max(0, -aheadMm, aheadMm - length);
      const asideMm = ((yMm - points[2 * from + 1]) * alongX - (xMm - points[2 * from]) * alongY) / length;
      const awayMm = Math.hypot(asideMm, beyondMm);
      if (awayMm <= reachMm) into.push({ awayMm, dx: -alongY / length, dy: alongX / length });
    }
  }
}

/** Area of one ring, mm². */
export function areaOfRing({ points, starts }: Rings, ring: number): number {
  let twice = 0;
  const first = starts[ring];
  const last = starts[ring + 1] - 1;
  for (let a = last, b = first; b <= last; a = b++) {
    twice +=
      (points[2 * a] - points[2 * first]) * (points[2 * b + 1] - points[2 * first + 1]) -
      (points[2 * b] - points[2 * first]) * (points[2 * a + 1] - points[2 * first + 1]);
  }
  return Math.abs(twice) / 2;
}

function isInside(winding: number, evenOdd: boolean): boolean {
  return evenOdd ? (winding & 1) !== 0 : winding !== 0;
}

/** A ring whose box the way misses winds round none of its places. */
function mayMeet({ boxes }: Rings, ring: number, { xMm, yMm, dx, dy, reachMm }: Line): boolean {
  const acrossMm = Math.abs(dx) * reachMm;
  const downMm = Math.abs(dy) * reachMm;
  return (
    boxes[4 * ring] <= xMm + acrossMm &&
    boxes[4 * ring + 2] >= xMm - acrossMm &&
    boxes[4 * ring + 1] <= yMm + downMm &&
    boxes[4 * ring + 3] >= yMm - downMm
  );
}

function collectCrossings({ points, starts }: Rings, ring: number, line: Line, into: Crossing[]): void {
  const { xMm, yMm, dx, dy } = line;
  const first = starts[ring];
  const last = starts[ring + 1] - 1;
  let from = last;
  let fromSide = (points[2 * last + 1] - yMm) * dx - (points[2 * last] - xMm) * dy;
  for (let to = first; to <= last; to++) {
    const toSide = (points[2 * to + 1] - yMm) * dx - (points[2 * to] - xMm) * dy;
    if (fromSide >= 0 !== toSide >= 0) {
      const share = fromSide / (fromSide - toSide);
      const fromT = (points[2 * from] - xMm) * dx + (points[2 * from + 1] - yMm) * dy;
      const toT = (points[2 * to] - xMm) * dx + (points[2 * to + 1] - yMm) * dy;
      into.push({ t: fromT + (toT - fromT) * share, turn: toSide >= 0 ? 1 : -1, from, to });
    }
    from = to;
    fromSide = toSide;
  }
}

function directionOf({ points }: Rings, { from, to }: Crossing): EdgeDirection {
  const dx = points[2 * to] - points[2 * from];
  const dy = points[2 * to + 1] - points[2 * from + 1];
  const length = Math.hypot(dx, dy);
  return { dx: dx / length, dy: dy / length };
}
