import type { BitPlane } from './bitPlane.ts';
import { edgeCellsByKernel } from './kernels/edgeCellsByKernel.ts';
import { outlineKernels } from './kernels/outlineModule.ts';
import { edgeCellsPlain } from './outlines/edgeCellsPlain.ts';

/**
 * The cells of 8 × 8 px of a plane at which an edge between ink and clear film lies, one bit a cell: pixels on both
 * sides of an edge mark theirs, so a cell that is not marked holds only ink or only clear film and so do the pixels
 * along its sides. Ink that reaches the border of the film has an edge there.
 */
export function findEdgeCells(plane: BitPlane): BitPlane {
  const loaded = outlineKernels();
  return loaded === null ? edgeCellsPlain(plane) : edgeCellsByKernel(loaded, plane);
}
