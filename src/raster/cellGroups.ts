import type { BitPlane } from './bitPlane.ts';
import { GrowingInts } from './growingList.ts';

/**
 * The opaque pixels in groups that touch, corners included: each a list of pixel numbers (row · widthPx + column).
 * Groups come in the order of their first pixel. Meant for reduced planes; large ones have faster means.
 */
export function* groupCells(plane: BitPlane): Iterable<Int32Array> {
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
  for (let i = 0; i < rest.length; i++) {
    while (rest[i] !== 0) {
      const bit = 31 - Math.clz32(rest[i] & -rest[i]);
      const cells = new GrowingInts();
      visit(cells, (i % wordsPerRow) * 32 + bit, Math.floor(i / wordsPerRow));
      for (let k = 0; k < cells.length; k++) {
        const column = cells.values[k] % widthPx;
        const row = (cells.values[k] - column) / widthPx;
        for (let dr = -1; dr <= 1; dr++) for (let dc = -1; dc <= 1; dc++) visit(cells, column + dc, row + dr);
      }
      yield cells.values.subarray(0, cells.length);
    }
  }
}
