import type { BitPlane } from '../raster/bitPlane.ts';

/** Pixels to a cell, as bits are packed. */
const cellColumns = 32;
const cellRows = 32;

/** Tells whether anything in a box of pixels is set in any of some planes of one size, in no time. */
export class ChangedMap {
  private readonly columns: number;
  /** How many cells above and left of each have something set; one row and column more than there are cells. */
  private readonly sums: Int32Array;

  constructor(planes: readonly BitPlane[]) {
    const [{ widthPx, heightPx }] = planes;
    this.columns = Math.ceil(widthPx / cellColumns);
    const rows = Math.ceil(heightPx / cellRows);
    const isSet = new Uint8Array(this.columns * rows);
    for (const { words, wordsPerRow } of planes)
      for (let at = 0; at < words.length; at++)
        if (words[at] !== 0) isSet[Math.floor(at / wordsPerRow / cellRows) * this.columns + (at % wordsPerRow)] = 1;
    const stride = this.columns + 1;
    this.sums = new Int32Array(stride * (rows + 1));
    for (let row = 0; row < rows; row++)
      for (let column = 0; column < this.columns; column++)
        this.sums[(row + 1) * stride + column + 1] =
          isSet[row * this.columns + column] +
          this.sums[row * stride + column + 1] +
          this.sums[(row + 1) * stride + column] -
          this.sums[row * stride + column];
  }

  /** Whether anything is set in the box, or less than a cell beside it. `right` and `bottom` are one past the last. */
  touches(box: {
    readonly left: number;
    readonly top: number;
    readonly right: number;
    readonly bottom: number;
  }): boolean {
    const stride = this.columns + 1;
    const [left, top] = [Math.floor(box.left / cellColumns), Math.floor(box.top / cellRows)];
    const right = Math.min(this.columns, Math.ceil(box.right / cellColumns));
    const bottom = Math.ceil(box.bottom / cellRows);
    const sum = (column: number, row: number) => this.sums[row * stride + column];
    return sum(right, bottom) - sum(left, bottom) - sum(right, top) + sum(left, top) > 0;
  }
}
