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
  const { widthPx, heightPx, wordsPerRow } = plane;
  const rest = Uint32Array.from(plane.words);
  const visit = (cells: GrowingInts, column: number, row: number): void => {
    if (column < 0 || row < 0 || column >= widthPx || row >= heightPx) return;
    const index = row * wordsPerRow + (column >> 5);
    const bit = 1 << (column & 31);
    if ((rest[index] & bit) === 0) return;
    rest[index] &= ~bit;
    cells.push(row * widthPx + column);
  };
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
  for (const first of firsts.values.subarray(0, firsts.length).sort()) {
    const cells = new GrowingInts();
    visit(cells, first % widthPx, Math.floor(first / widthPx));
    for (let k = 0; k < cells.length; k++) {
      const column = cells.values[k] % widthPx;
      const row = (cells.values[k] - column) / widthPx;
      for (let dr = -1; dr <= 1; dr++) for (let dc = -1; dc <= 1; dc++) visit(cells, column + dc, row + dr);
    }
    yield cells.values.subarray(0, cells.length);
  }
}
