import { type BitPlane, createBitPlane } from './bitPlane.ts';
import { Layout } from './kernels/kernelModule.ts';
import { outlineKernels } from './kernels/outlineModule.ts';
import { clearTails } from './morphology.ts';

/** Side of a cell in pixels: four to a word. */
export const cellPx = 8;
/** Rows of cells worked on at once. */
const bandCellRows = 64;

/**
 * The cells of 8 × 8 px of a plane at which an edge between ink and clear film lies, one bit a cell: pixels on both
 * sides of an edge mark theirs, so a cell that is not marked holds only ink or only clear film and so do the pixels
 * along its sides. Ink that reaches the border of the film has an edge there.
 */
export function findEdgeCells(plane: BitPlane): BitPlane {
  const { widthPx, heightPx, wordsPerRow, words } = plane;
  const cells = createBitPlane(Math.ceil(widthPx / cellPx), Math.ceil(heightPx / cellPx));
  const kernels = outlineKernels();
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
