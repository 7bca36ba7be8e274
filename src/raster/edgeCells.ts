import { type BitPlane, createBitPlane } from './bitPlane.ts';
import { Layout } from './kernels/kernelModule.ts';
import { outlineKernels } from './kernels/outlineModule.ts';
import { clearTails } from './morphology.ts';

/** Side of a cell in pixels: four to a word. */
export const cellPx = 8;

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
  const planeAt = layout.take(4 * words.length);
  const cellsAt = layout.take(4 * cells.words.length);
  const scratch = layout.take(4 * wordsPerRow);
  const memory = new Uint32Array(kernels.memory.buffer);
  memory.set(words, planeAt >> 2);
  memory.fill(0, cellsAt >> 2, (cellsAt >> 2) + cells.words.length);
  kernels.findEdgeCells(planeAt, wordsPerRow, heightPx, cellsAt, cells.wordsPerRow, scratch);
  cells.words.set(memory.subarray(cellsAt >> 2, (cellsAt >> 2) + cells.words.length));
  clearTails(cells);
  return cells;
}
