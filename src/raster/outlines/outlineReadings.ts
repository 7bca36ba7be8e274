import type { BoxMm } from '../../geometry/box.ts';
import { tilesOfBoxes } from '../edgeTiles.ts';
import type { StripReadings } from '../facedOutline.ts';
import type { EdgedPlane } from '../griddedPlane.ts';
import type { FacingEdge } from './facingEdge.ts';
import type { OutlineSides } from './outlineWalk.ts';
import { markCorners, sideAt, smooth, smoothSides, undoShrinking } from './smoothOutline.ts';

/** Outlines of fewer pixel sides than this shrink noticeably when smoothed. */
const smallOutline = 240;
/** Readings every so many pixel sides. */
const sidesApart = 2;
const coarseStride = 4;

/**
 * The outline at hand smoothed, with a reading at every second of its pixel sides: overlaps in mm, gaps negative, and
 * widths of strips that lie wholly on the other ink; NaN where there is none. The arrays are used again for the next.
 */
export class OutlineReadings implements StripReadings {
  length = 0;
  closed = false;
  xMm = new Float64Array(0);
  yMm = new Float64Array(0);
  normalX = new Float64Array(0);
  normalY = new Float64Array(0);
  stepMm = new Float64Array(0);
  corner = new Uint8Array(0);
  overlapMm = new Float64Array(0);
  stripMm = new Float64Array(0);
  overlapCount = 0;
  stripCount = 0;
  private readonly own: EdgedPlane;
  private readonly facing: FacingEdge;
  private readonly boxes: readonly BoxMm[];
  private readonly boxTiles: Uint8Array;
  /** Every pixel side smoothed, in mm, and which of them are at a corner. */
  private xs = new Float64Array(0);
  private ys = new Float64Array(0);
  private corners = new Uint8Array(0);

  /** @param boxes where nothing is read */
  constructor(own: EdgedPlane, facing: FacingEdge, boxes: readonly BoxMm[]) {
    this.own = own;
    this.facing = facing;
    this.boxes = boxes;
    this.boxTiles = tilesOfBoxes(boxes, own.grid, own.bits.wordsPerRow);
  }

  take({ columns, rows, count, closed }: OutlineSides): void {
    this.reserve(count);
    const { xs, ys, corners } = this;
    const { pitchXMm, pitchYMm } = this.own.grid;
    smooth(columns, count, closed, pitchXMm, xs);
    smooth(rows, count, closed, pitchYMm, ys);
    if (closed && count < smallOutline) undoShrinking(xs, ys, count);
    markCorners(xs, ys, count, closed, corners);
    this.length = Math.floor(count / sidesApart);
    this.closed = closed;
    this.place(count);
    this.readAll();
  }

  /** Area within the outline, closed: positive where the ink lies inside it, negative for an opening in the ink. */
  enclosedMm2(): number {
    const { length, xMm, yMm } = this;
    let twice = 0;
    for (let s = 0; s < length; s++) {
      const next = s + 1 < length ? s + 1 : 0;
      twice += xMm[s] * yMm[next] - xMm[next] * yMm[s];
    }
    return twice / 2;
  }

  private reserve(sides: number): void {
    if (this.xs.length >= sides) return;
    const [room, samples] = [2 * sides, sides];
    this.xs = new Float64Array(room);
    this.ys = new Float64Array(room);
    this.corners = new Uint8Array(room);
    this.xMm = new Float64Array(samples);
    this.yMm = new Float64Array(samples);
    this.normalX = new Float64Array(samples);
    this.normalY = new Float64Array(samples);
    this.stepMm = new Float64Array(samples);
    this.corner = new Uint8Array(samples);
    this.overlapMm = new Float64Array(samples);
    this.stripMm = new Float64Array(samples);
  }

  /** Sets each sample's place, outward normal and step to the next. */
  private place(sides: number): void {
    const { xs, ys, closed, length } = this;
    for (let s = 0; s < length; s++) {
      const i = s * sidesApart;
      const before = sideAt(i - smoothSides, sides, closed);
      const after = sideAt(i + smoothSides, sides, closed);
      const dx = xs[after] - xs[before];
      const dy = ys[after] - ys[before];
      const chord = Math.sqrt(dx * dx + dy * dy) || 1;
      const next = s === length - 1 ? (closed ? 0 : sides - 1) : i + sidesApart;
      const stepX = xs[next] - xs[i];
      const stepY = ys[next] - ys[i];
      this.xMm[s] = xs[i];
      this.yMm[s] = ys[i];
      this.normalX[s] = dy / chord;
      this.normalY[s] = -dx / chord;
      this.stepMm[s] = Math.sqrt(stepX * stepX + stepY * stepY);
      this.corner[s] = this.corners[i];
    }
  }

  /**
   * Takes every fourth reading first, and of those between only what stands beside one: fewer than four readings in a
   * row are no boundary.
   */
  private readAll(): void {
    const { length, closed } = this;
    this.overlapCount = 0;
    this.stripCount = 0;
    for (let s = 0; s < length; s += coarseStride) this.readAt(s);
    for (let s = 0; s < length; s += coarseStride) {
      const next = s + coarseStride;
      const isBeside = this.isFaced(s) || (next < length ? this.isFaced(next) : closed && this.isFaced(0));
      for (let between = s + 1; between < Math.min(next, length); between++) {
        if (isBeside) this.readAt(between);
        else this.leaveOut(between);
      }
    }
  }

  private readAt(s: number): void {
    const x = this.xMm[s];
    const y = this.yMm[s];
    if (!this.countsAt(x, y)) {
      this.leaveOut(s);
      return;
    }
    const overlapMm = this.facing.overlapMm(x, y, this.normalX[s], this.normalY[s]);
    const { stripMm } = this.facing;
    this.overlapMm[s] = overlapMm;
    this.stripMm[s] = stripMm;
    if (!Number.isNaN(overlapMm)) this.overlapCount++;
    if (!Number.isNaN(stripMm)) this.stripCount++;
  }

  private leaveOut(s: number): void {
    this.overlapMm[s] = Number.NaN;
    this.stripMm[s] = Number.NaN;
  }

  private isFaced(s: number): boolean {
    return !Number.isNaN(this.overlapMm[s]) || !Number.isNaN(this.stripMm[s]);
  }

  /** False where an outline must not be measured: in a box, or where art is cut by the border of the film. */
  private countsAt(x: number, y: number): boolean {
    const { grid, bits } = this.own;
    const column = Math.floor(x / grid.pitchXMm);
    const row = Math.floor(y / grid.pitchYMm);
    if (column < 1 || row < 1 || column >= grid.widthPx - 1 || row >= grid.heightPx - 1) return false;
    if (this.boxTiles[(row >> 5) * bits.wordsPerRow + (column >> 5)] === 0) return true;
    return !this.boxes.some(
      ({ xMm, yMm, widthMm, heightMm }) => x >= xMm && x <= xMm + widthMm && y >= yMm && y <= yMm + heightMm,
    );
  }
}
