import type { BoxMm } from './box.ts';
import { BoxTree } from './boxTree.ts';
import { flattenedPath } from './flattenedPath.ts';
import type { PathLists, PathRange } from './pathStore.ts';

/** Closed rings of straight edges in film mm: ring k has the points `starts[k]` up to `starts[k + 1]`. */
export interface Rings {
  /** x0, y0, x1, y1, … */
  readonly points: Float64Array;
  readonly starts: Int32Array;
  /** Left, top, right, bottom of each ring. */
  readonly boxes: Float64Array;
  /** Finds the rings near a place, where there are many. */
  readonly tree: BoxTree | null;
  readonly evenOdd: boolean;
  /** Left, top, right, bottom of every few edges: what does not come near is passed over. */
  readonly chunkBoxes: Float64Array;
  /** First chunk of each ring. */
  readonly chunkStarts: Int32Array;
}

/** Edges of a chunk. */
const chunkEdges = 16;
/** From so many rings on they are put into a tree. */
const ringsForTree = 32;

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
  const tree =
    lines.length < ringsForTree
      ? null
      : new BoxTree(lines.map((_, ring) => boxFrom(boxes.subarray(4 * ring, 4 * ring + 4))));
  return { points: all, starts, boxes, tree, evenOdd, ...chunksOf(all, starts) };
}

/** Edges of a ring are numbered by their second points, the first edge coming from the last point. */
function chunksOf(points: Float64Array, starts: Int32Array): Pick<Rings, 'chunkBoxes' | 'chunkStarts'> {
  const chunkStarts = new Int32Array(starts.length);
  for (let ring = 0; ring + 1 < starts.length; ring++) {
    chunkStarts[ring + 1] = chunkStarts[ring] + Math.ceil((starts[ring + 1] - starts[ring]) / chunkEdges);
  }
  const chunkBoxes = new Float64Array(4 * chunkStarts[chunkStarts.length - 1]);
  for (let ring = 0; ring + 1 < starts.length; ring++) {
    for (let chunk = chunkStarts[ring]; chunk < chunkStarts[ring + 1]; chunk++) {
      const first = starts[ring] + (chunk - chunkStarts[ring]) * chunkEdges;
      const end = Math.min(starts[ring + 1], first + chunkEdges);
      let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity];
      for (let k = first - 1; k < end; k++) {
        const point = k < starts[ring] ? starts[ring + 1] - 1 : k;
        left = Math.min(left, points[2 * point]);
        right = Math.max(right, points[2 * point]);
        top = Math.min(top, points[2 * point + 1]);
        bottom = Math.max(bottom, points[2 * point + 1]);
      }
      chunkBoxes.set([left, top, right, bottom], 4 * chunk);
    }
  }
  return { chunkBoxes, chunkStarts };
}

interface Crossing {
  readonly t: number;
  readonly turn: 1 | -1;
  /** First point of the edge, and the second. */
  readonly from: number;
  readonly to: number;
}

/** The parts of a line that lie inside the rings, from one end to the other. `near`: the rings it may meet. */
export function spansInside(
  rings: Rings,
  line: Line,
  near: readonly number[] = ringsMeeting(rings, boxOfLine(line)),
): Span[] {
  const crossings: Crossing[] = [];
  for (const ring of near) if (mayMeet(rings.boxes, ring, line)) collectCrossings(rings, ring, line, crossings);
  if (crossings.length === 0) return [];
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

/** An edge near a point: how far away, and the direction to its nearest place, of length 1. */
export interface NearEdge {
  readonly awayMm: number;
  readonly dx: number;
  readonly dy: number;
  readonly ring: number;
  /** Its ends: x, y, x, y. */
  readonly ends: readonly [number, number, number, number];
}

/** The place on an edge that is nearest to a point. */
export function nearestOn(
  [x0, y0, x1, y1]: NearEdge['ends'],
  x: number,
  y: number,
): readonly [xMm: number, yMm: number] {
  const [alongX, alongY] = [x1 - x0, y1 - y0];
  const share = ((x - x0) * alongX + (y - y0) * alongY) / (alongX * alongX + alongY * alongY);
  const t = Math.min(1, Math.max(0, share));
  return [x0 + t * alongX, y0 + t * alongY];
}

/** Collects the edges no further from a point than the reach. `near`: the rings to look at. */
export function collectEdgesNear(
  rings: Rings,
  xMm: number,
  yMm: number,
  reachMm: number,
  into: NearEdge[],
  near: readonly number[] = ringsMeeting(rings, boxRound(xMm, yMm, reachMm)),
): void {
  const { points, starts, chunkBoxes, chunkStarts } = rings;
  for (const ring of near) {
    for (let chunk = chunkStarts[ring]; chunk < chunkStarts[ring + 1]; chunk++) {
      const box = 4 * chunk;
      if (chunkBoxes[box] > xMm + reachMm || chunkBoxes[box + 2] < xMm - reachMm) continue;
      if (chunkBoxes[box + 1] > yMm + reachMm || chunkBoxes[box + 3] < yMm - reachMm) continue;
      const first = starts[ring] + (chunk - chunkStarts[ring]) * chunkEdges;
      const end = Math.min(starts[ring + 1], first + chunkEdges);
      for (let to = first, from = to === starts[ring] ? starts[ring + 1] - 1 : to - 1; to < end; from = to++) {
        const edge = edgeNear(points, from, to, ring, xMm, yMm, reachMm);
        if (edge !== null) into.push(edge);
      }
    }
  }
}

function edgeNear(
  points: Float64Array,
  from: number,
  to: number,
  ring: number,
  xMm: number,
  yMm: number,
  reachMm: number,
): NearEdge | null {
  const x0 = points[2 * from];
  const y0 = points[2 * from + 1];
  const x1 = points[2 * to];
  const y1 = points[2 * to + 1];
  const alongX = x1 - x0;
  const alongY = y1 - y0;
  const squared = alongX * alongX + alongY * alongY;
  if (squared === 0) return null;
  const t = Math.min(1, Math.max(0, ((xMm - x0) * alongX + (yMm - y0) * alongY) / squared));
  const awayX = x0 + t * alongX - xMm;
  const awayY = y0 + t * alongY - yMm;
  const awayMm = Math.sqrt(awayX * awayX + awayY * awayY);
  if (awayMm > reachMm) return null;
  const ends = [x0, y0, x1, y1] as const;
  // On the edge itself the direction is the one square to it.
  const length = Math.sqrt(squared);
  if (awayMm < 1e-9) return { awayMm, dx: -alongY / length, dy: alongX / length, ring, ends };
  return { awayMm, dx: awayX / awayMm, dy: awayY / awayMm, ring, ends };
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

/** The rings whose boxes meet a box. A ring that winds round a place has the place in its box. */
export function ringsMeeting({ boxes, tree }: Rings, box: BoxMm): number[] {
  if (tree !== null) return tree.meeting(box);
  const { xMm, yMm, widthMm, heightMm } = box;
  const found: number[] = [];
  for (let ring = 0; ring < boxes.length / 4; ring++) {
    if (boxes[4 * ring] > xMm + widthMm || boxes[4 * ring + 2] < xMm) continue;
    if (boxes[4 * ring + 1] <= yMm + heightMm && boxes[4 * ring + 3] >= yMm) found.push(ring);
  }
  return found;
}

/** The box a line reaches over. */
function boxOfLine({ xMm, yMm, dx, dy, reachMm }: Line): BoxMm {
  const acrossMm = Math.abs(dx) * reachMm;
  const downMm = Math.abs(dy) * reachMm;
  return { xMm: xMm - acrossMm, yMm: yMm - downMm, widthMm: 2 * acrossMm, heightMm: 2 * downMm };
}

function boxRound(xMm: number, yMm: number, reachMm: number): BoxMm {
  return { xMm: xMm - reachMm, yMm: yMm - reachMm, widthMm: 2 * reachMm, heightMm: 2 * reachMm };
}

function boxFrom([left, top, right, bottom]: Float64Array): BoxMm {
  return { xMm: left, yMm: top, widthMm: right - left, heightMm: bottom - top };
}

/** Whether the line, as long as it likes, may cross a box; a little more than the box counts, for rounding. */
function crosses(boxes: Float64Array, box: number, { xMm, yMm, dx, dy }: Line): boolean {
  const halfX = (boxes[4 * box + 2] - boxes[4 * box]) / 2;
  const halfY = (boxes[4 * box + 3] - boxes[4 * box + 1]) / 2;
  const side = (boxes[4 * box + 1] + halfY - yMm) * dx - (boxes[4 * box] + halfX - xMm) * dy;
  return Math.abs(side) <= 1.000001 * (halfY * Math.abs(dx) + halfX * Math.abs(dy)) + 1e-9;
}

/** Whether a ring's box may have a say in what lies along the line within its reach. */
function mayMeet(boxes: Float64Array, ring: number, line: Line): boolean {
  const { xMm, yMm, dx, dy, reachMm } = line;
  const acrossMm = Math.abs(dx) * reachMm + 1e-9;
  const downMm = Math.abs(dy) * reachMm + 1e-9;
  if (boxes[4 * ring] > xMm + acrossMm || boxes[4 * ring + 2] < xMm - acrossMm) return false;
  if (boxes[4 * ring + 1] > yMm + downMm || boxes[4 * ring + 3] < yMm - downMm) return false;
  return crosses(boxes, ring, line);
}

function collectCrossings(rings: Rings, ring: number, line: Line, into: Crossing[]): void {
  const { points, starts, chunkBoxes, chunkStarts } = rings;
  const { xMm, yMm, dx, dy } = line;
  for (let chunk = chunkStarts[ring]; chunk < chunkStarts[ring + 1]; chunk++) {
    if (!crosses(chunkBoxes, chunk, line)) continue;
    const first = starts[ring] + (chunk - chunkStarts[ring]) * chunkEdges;
    const end = Math.min(starts[ring + 1], first + chunkEdges);
    let from = first === starts[ring] ? starts[ring + 1] - 1 : first - 1;
    let fromSide = (points[2 * from + 1] - yMm) * dx - (points[2 * from] - xMm) * dy;
    for (let to = first; to < end; to++) {
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
}

function directionOf({ points }: Rings, { from, to }: Crossing): EdgeDirection {
  const dx = points[2 * to] - points[2 * from];
  const dy = points[2 * to + 1] - points[2 * from + 1];
  const length = Math.hypot(dx, dy);
  return { dx: dx / length, dy: dy / length };
}
