import type { BoxMm } from './box.ts';

export const moveTo = 0;
export const lineTo = 1;
export const curveTo = 2;
export const closePath = 3;

/** Rounding noise of transforms by quarter turns. */
const uprightToleranceMm = 1e-6;

/** A path within the store. */
export interface PathRange {
  readonly verbStart: number;
  readonly verbEnd: number;
  readonly coordStart: number;
  readonly coordEnd: number;
}

/** The arrays that path ranges point into. */
export type PathLists = Pick<PathStore, 'verbs' | 'coords'>;

/**
 * Paths of a page in two growing arrays, in film mm: verbs, and coordinates x0, y0, x1, y1, … (one point a move or
 * line, three a curve, none a close). Hundreds of thousands of small paths take little more than their numbers.
 */
export class PathStore {
  verbs = new Uint8Array(4096);
  coords = new Float64Array(16384);
  private verbCount = 0;
  private coordCount = 0;
  private verbStart = 0;
  private coordStart = 0;

  /** Whether a path is being built. */
  get isEmpty(): boolean {
    return this.verbCount === this.verbStart;
  }

  add(verb: number, ...points: number[]): void {
    if (this.verbCount + 1 > this.verbs.length) this.verbs = grown(this.verbs, new Uint8Array(2 * this.verbs.length));
    if (this.coordCount + 6 > this.coords.length) {
      this.coords = grown(this.coords, new Float64Array(2 * this.coords.length));
    }
    this.verbs[this.verbCount++] = verb;
    for (let k = 0; k < points.length; k++) this.coords[this.coordCount++] = points[k];
  }

  /** Ends the path being built and keeps it. */
  take(): PathRange {
    const range = {
      verbStart: this.verbStart,
      verbEnd: this.verbCount,
      coordStart: this.coordStart,
      coordEnd: this.coordCount,
    };
    this.verbStart = this.verbCount;
    this.coordStart = this.coordCount;
    return range;
  }

  /** Ends the path being built and forgets it. */
  drop(): void {
    this.verbCount = this.verbStart;
    this.coordCount = this.coordStart;
  }

  /** Gives up a path; its room is used again when it was the last one taken. */
  release(range: PathRange): void {
    if (range.verbEnd !== this.verbCount || !this.isEmpty) return;
    this.verbCount = this.verbStart = range.verbStart;
    this.coordCount = this.coordStart = range.coordStart;
  }

  /** Box of all points, control points included; an empty path gives an empty box at the origin. */
  boxOf(range: PathRange): BoxMm {
    let left = Number.POSITIVE_INFINITY;
    let top = Number.POSITIVE_INFINITY;
    let right = Number.NEGATIVE_INFINITY;
    let bottom = Number.NEGATIVE_INFINITY;
    for (let at = range.coordStart; at < range.coordEnd; at += 2) {
      const x = this.coords[at];
      const y = this.coords[at + 1];
      if (x < left) left = x;
      if (x > right) right = x;
      if (y < top) top = y;
      if (y > bottom) bottom = y;
    }
    if (!(right >= left && bottom >= top)) return { xMm: 0, yMm: 0, widthMm: 0, heightMm: 0 };
    return { xMm: left, yMm: top, widthMm: right - left, heightMm: bottom - top };
  }

  /** The box when the path is one upright rectangle, else null. */
  rectangleOf(range: PathRange): BoxMm | null {
    const { verbs, coords } = this;
    const last = verbs[range.verbEnd - 1];
    const count = (range.coordEnd - range.coordStart) / 2;
    const points = range.verbEnd - range.verbStart - (last === closePath ? 1 : 0);
    if (points !== count || (count !== 4 && count !== 5) || verbs[range.verbStart] !== moveTo) return null;
    for (let v = range.verbStart + 1; v < range.verbStart + count; v++) if (verbs[v] !== lineTo) return null;
    const x = (k: number) => coords[range.coordStart + 2 * (k % count)];
    const y = (k: number) => coords[range.coordStart + 2 * (k % count) + 1];
    const same = (a: number, b: number) => Math.abs(a - b) <= uprightToleranceMm;
    if (count === 5 && !(same(x(4), x(0)) && same(y(4), y(0)))) return null;
    const acrossFirst = same(y(0), y(1)) && same(x(1), x(2)) && same(y(2), y(3)) && same(x(3), x(0));
    const downFirst = same(x(0), x(1)) && same(y(1), y(2)) && same(x(2), x(3)) && same(y(3), y(0));
    return acrossFirst || downFirst ? this.boxOf(range) : null;
  }
}

function grown<T extends Uint8Array | Float64Array>(from: T, to: T): T {
  to.set(from as never);
  return to;
}
