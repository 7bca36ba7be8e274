import type { BitPlane } from '../bitPlane.ts';
import { cellPx, emptyCells } from '../cellGrid.ts';
import { clearTails } from '../morphology.ts';
import { Layout } from './kernelModule.ts';
import type { OutlineKernels } from './outlineModule.ts';

/** Rows of cells worked on at once. */
const bandCellRows = 64;

/** `edgeCellsPlain`, 64 pixels a step. */
export function edgeCellsByKernel(kernels: OutlineKernels, plane: BitPlane): BitPlane {
  const { heightPx, wordsPerRow, words } = plane;
  const cells = emptyCells(plane);
  const layout = new Layout(kernels);
  const band = layout.take(4 * wordsPerRow * (bandCellRows * cellPx + 2));
  const cellsAt = layout.take(4 * cells.words.length);
  const scratch = layout.take(4 * wordsPerRow);
  const memory = new Uint32Array(kernels.memory.buffer);
  memory.fill(0, cellsAt >> 2, (cellsAt >> 2) + cells.words.length);
  for (let from = 0; from < cells.heightPx; from += bandCellRows) {
    const to = Math.min(cells.heightPx, from + bandCellRows);
    // With the rows above and below.
    const top = Math.max(0, from * cellPx - 1);
    const bottom = Math.min(heightPx, to * cellPx + 1);
    memory.set(words.subarray(top * wordsPerRow, bottom * wordsPerRow), band >> 2);
    const firstRowAt = band - 4 * wordsPerRow * top;
    kernels.findEdgeCells(firstRowAt, wordsPerRow, heightPx, from, to, cellsAt, cells.wordsPerRow, scratch);
  }
  cells.words.set(memory.subarray(cellsAt >> 2, (cellsAt >> 2) + cells.words.length));
  clearTails(cells);
  return cells;
}
