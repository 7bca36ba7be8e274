import type { BitPlane } from './bitPlane.ts';
import { visitComponents } from './components.ts';
import { GrowingInts } from './growingList.ts';

/** How large the box of a group is at least and at most, in pixels, both ways. */
export interface GroupSize {
  readonly leastColumns: number;
  readonly leastRows: number;
  readonly mostColumns: number;
  readonly mostRows: number;
  /** Whether a group of this box is wanted at all (ends not included); every one is when left out. */
  readonly isWanted?: (left: number, top: number, right: number, bottom: number) => boolean;
}

/**
 * The opaque pixels in groups that touch, corners included, of the size asked for: each a list of pixel numbers
 * (row · widthPx + column). Groups come in the order of their first pixel.
 */
export function* groupCells(plane: BitPlane, size: GroupSize): Iterable<Int32Array> {
  const { widthPx } = plane;
  const firsts = new GrowingInts();
  visitComponents(
    plane,
    { inverted: false, connectivity: 8, ...size, moments: false },
    ({ firstColumn, left, top, right, bottom }) => {
      if (right - left < size.leastColumns || bottom - top < size.leastRows) return;
      if (size.isWanted !== undefined && !size.isWanted(left, top, right, bottom)) return;
      firsts.push(top * widthPx + firstColumn);
    },
  );
  if (firsts.length === 0) return;
  const rest = new GroupTaker(plane);
  for (const first of firsts.values.subarray(0, firsts.length).sort()) {
    yield rest.take(first % widthPx, Math.floor(first / widthPx));
  }
}

/** Takes groups off a copy of a plane, run by run. */
class GroupTaker {
  readonly #plane: BitPlane;
  readonly #rest: Int32Array;
  readonly #cells = new GrowingInts();
  /** Row, first and last column of runs whose neighbours are still to be looked at. */
  readonly #runs = new GrowingInts();

  constructor(plane: BitPlane) {
    this.#plane = plane;
    this.#rest = new Int32Array(plane.words.length);
    this.#rest.set(plane.words);
  }

  /** The group a pixel belongs to. */
  take(column: number, row: number): Int32Array {
    const runs = this.#runs;
    this.#cells.length = 0;
    this.#takeRuns(row, column, column);
    while (runs.length > 0) {
      runs.length -= 3;
      const at = runs.length;
      const of = runs.values[at];
      const from = runs.values[at + 1] - 1;
      const to = runs.values[at + 2] + 1;
      if (of > 0) this.#takeRuns(of - 1, from, to);
      if (of + 1 < this.#plane.heightPx) this.#takeRuns(of + 1, from, to);
    }
    return this.#cells.values.slice(0, this.#cells.length);
  }

  /** Takes the runs of a row that have a pixel from one column to another. */
  #takeRuns(row: number, from: number, to: number): void {
    const { widthPx, wordsPerRow } = this.#plane;
    const rest = this.#rest;
    const first = row * wordsPerRow;
    const end = Math.min(widthPx - 1, to);
    for (let column = Math.max(0, from); column <= end; column++) {
      const ahead = rest[first + (column >> 5)] >>> (column & 31);
      if (ahead === 0) column |= 31;
      else if ((ahead & 1) === 1) column = this.#takeRun(rest, row, first, column, widthPx);
    }
  }

  /** Takes the run of a row that a column lies in, and answers the column behind it. */
  #takeRun(rest: Int32Array, row: number, first: number, column: number, widthPx: number): number {
    let left = column;
    while (left > 0 && (rest[first + ((left - 1) >> 5)] >>> ((left - 1) & 31)) & 1) left--;
    let right = column + 1;
    while (right < widthPx && (rest[first + (right >> 5)] >>> (right & 31)) & 1) right++;
    const cells = this.#cells;
    cells.makeRoom(right - left);
    for (let at = left; at < right; at++) {
      rest[first + (at >> 5)] &= ~(1 << (at & 31));
      cells.values[cells.length++] = row * widthPx + at;
    }
    const runs = this.#runs;
    runs.makeRoom(3);
    runs.values[runs.length++] = row;
    runs.values[runs.length++] = left;
    runs.values[runs.length++] = right - 1;
    return right;
  }
}
