import type { BitPlane } from '../bitPlane.ts';
import { type Kernels, Layout } from './kernelModule.ts';

/** Cells broader than this are not read in one word. */
export const mostCellColumns = 57;

/** `countPlain`, a cell at a time. */
export function countByKernel(kernels: Kernels, plane: BitPlane, factor: number): Uint32Array {
  const { widthPx, heightPx, wordsPerRow, words } = plane;
  const columns = Math.ceil(widthPx / factor);
  const rows = Math.ceil(heightPx / factor);
  const counts = new Uint32Array(columns * rows);
  const layout = new Layout(kernels);
  const band = layout.take(4 * factor * wordsPerRow);
  const countsAt = layout.take(4 * columns);
  const memory = new Uint32Array(kernels.memory.buffer);
  const row = memory.subarray(countsAt >> 2, (countsAt >> 2) + columns);
  for (let cellRow = 0; cellRow < rows; cellRow++) {
    const top = cellRow * factor;
    const bottom = Math.min(heightPx, top + factor);
    memory.set(words.subarray(top * wordsPerRow, bottom * wordsPerRow), band >> 2);
    row.fill(0);
    kernels.countCells(band, bottom - top, 4 * wordsPerRow, widthPx, factor, countsAt);
    counts.set(row, cellRow * columns);
  }
  return counts;
}
