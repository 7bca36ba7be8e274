import type { BitPlane } from './bitPlane.ts';

/** How much further than twice the near edge the edge opposite is looked for: peeled lines run beside the middle. */
const beside = 6;

/**
 * Looks from pixels of a shape for the nearest pixels that do not belong to it. The shape is the opaque part of the
 * plane, or with `inverted` the clear part; beyond the plane is clear either way. Distances are between pixel centres
 * in units of a pixel's width, `rowPitch` being a pixel's height.
 */
export class EdgeFinder {
  /** Offset of the pixel the last `nearest` found, in columns and rows. */
  offsetColumn = 0;
  offsetRow = 0;
  private readonly words: Int32Array;
  private readonly widthPx: number;
  private readonly heightPx: number;
  private readonly wordsPerRow: number;
  private readonly rowPitch: number;
  private readonly flip: number;

  constructor(plane: BitPlane, inverted: boolean, rowPitch = 1) {
    this.words = new Int32Array(plane.words.buffer, plane.words.byteOffset, plane.words.length);
    this.widthPx = plane.widthPx;
    this.heightPx = plane.heightPx;
    this.wordsPerRow = plane.wordsPerRow;
    this.rowPitch = rowPitch;
    this.flip = inverted ? -1 : 0;
  }

  /** Whether a pixel belongs to the shape. */
  holds(column: number, row: number): boolean {
    if (this.isBeyond(column, row)) return this.flip !== 0;
    return (((this.words[row * this.wordsPerRow + (column >> 5)] ^ this.flip) >>> (column & 31)) & 1) === 1;
  }

  /**
   * Distance to the nearest pixel off the shape, no further than `limit` columns; `Infinity` when there is none so
   * near. Leaves its place in `offsetColumn`, `offsetRow`.
   */
  nearest(column: number, row: number, limit: number): number {
    let best = limit * limit;
    let found = false;
    for (let step = 0; ; step++) {
      const down = step * this.rowPitch;
      if (down * down >= best) break;
      for (let sign = step === 0 ? 1 : -1; sign <= 1; sign += 2) {
        const most = Math.sqrt(best - down * down);
        const left = this.toLeft(column, row + sign * step, most);
        const right = left === 0 ? Infinity : this.toRight(column, row + sign * step, Math.min(most, left));
        const across = Math.min(left, right);
        const squared = across * across + down * down;
        if (squared >= best) continue;
        best = squared;
        found = true;
        this.offsetColumn = right < left ? right : -left;
        this.offsetRow = sign * step;
      }
    }
    return found ? Math.sqrt(best) : Infinity;
  }

  /** Columns from here to the first pixel off the shape on the left, 0 for the pixel itself; `Infinity` past `limit`. */
  toLeft(column: number, row: number, limit: number): number {
    if (this.isBeyond(column, row)) return this.flip === 0 ? 0 : Infinity;
    const base = row * this.wordsPerRow;
    let index = column >> 5;
    const last = column & 31;
    let off = ~(this.words[base + index] ^ this.flip) & (last === 31 ? -1 : (1 << (last + 1)) - 1);
    let distance = last;
    while (off === 0) {
      if (index === 0) return this.flip === 0 && column + 1 <= limit ? column + 1 : Infinity;
      if (distance + 1 > limit) return Infinity;
      off = ~(this.words[base + --index] ^ this.flip);
      distance += 32;
    }
    distance -= 31 - Math.clz32(off);
    return distance <= limit ? distance : Infinity;
  }

  /** The same to the right. */
  toRight(column: number, row: number, limit: number): number {
    if (this.isBeyond(column, row)) return this.flip === 0 ? 0 : Infinity;
    const base = row * this.wordsPerRow;
    let index = column >> 5;
    let off = ~(this.words[base + index] ^ this.flip) & (-1 << (column & 31));
    let distance = -(column & 31);
    while (off === 0) {
      index++;
      distance += 32;
      if (index >= this.wordsPerRow) {
        const edge = this.widthPx - column;
        return this.flip === 0 && edge <= limit ? edge : Infinity;
      }
      if (distance > limit) return Infinity;
      off = ~(this.words[base + index] ^ this.flip);
    }
    distance += 31 - Math.clz32(off & -off);
    return distance <= limit ? distance : Infinity;
  }

  /** Rows from here to the first pixel off the shape, upwards (`step` -1) or downwards (1); `Infinity` past `limit`. */
  toRow(column: number, row: number, step: -1 | 1, limit: number): number {
    for (let distance = 0; distance <= limit; distance++) {
      if (!this.holds(column, row + step * distance)) return distance;
    }
    return Infinity;
  }

  /**
   * Width of the shape at a pixel near its middle, the diameter of the largest disc there: twice the way to the nearest
   * pixel off it, or, when the other side is found straight opposite, both ways together; less what pixel centres reach
   * beyond the edges. Good to about half a pixel; `Infinity` when the nearest edge lies further than `limit`.
   */
  widthAcross(column: number, row: number, limit: number): number {
    const near = this.nearest(column, row, limit);
    if (near === Infinity || near === 0) return near;
    const dx = -this.offsetColumn;
    const dy = -this.offsetRow;
    const steps = Math.max(Math.abs(dx), Math.abs(dy));
    const far = this.reachOpposite(column, row, near, dx, dy, 2 * near + beside);
    const aside = Math.round(((far - near) / 2) * (steps / near));
    if (aside < 1 || far === Infinity) return this.across(near, far, steps);
    // Peeled lines run beside the middle, by more the broader the shape. In a corner the step aside leads nearer to the other edge.
    const c = column + Math.round((aside * dx) / steps);
    const r = row + Math.round((aside * dy) / steps);
    const centred = this.nearest(c, r, limit);
    if (centred <= near || centred === Infinity) return this.across(near, far, steps);
    const backX = -this.offsetColumn;
    const backY = -this.offsetRow;
    const opposite = this.reachOpposite(c, r, centred, backX, backY, centred + 2);
    return this.across(centred, opposite, Math.max(Math.abs(backX), Math.abs(backY)));
  }

  /** Way from a pixel to the first one off the shape in a direction; `Infinity` past `most`. */
  private reachOpposite(column: number, row: number, near: number, dx: number, dy: number, most: number): number {
    const steps = Math.max(Math.abs(dx), Math.abs(dy));
    const stride = near / steps;
    for (let k = Math.max(1, steps - 1); k * stride <= most; k++) {
      if (!this.holds(column + Math.round((k * dx) / steps), row + Math.round((k * dy) / steps))) return k * stride;
    }
    return Infinity;
  }

  /** Edges pass half-way between pixel centres: half a pixel short of them along the rows, less across the diagonal. */
  private across(near: number, far: number, steps: number): number {
    const stride = near / steps;
    return near + (far <= near + 1.6 * stride ? far : near + stride / 2) - 1 / stride;
  }

  private isBeyond(column: number, row: number): boolean {
    return column < 0 || row < 0 || column >= this.widthPx || row >= this.heightPx;
  }
}
