import { type BitPlane, createBitPlane } from '../bitPlane.ts';
import type { CoarseCells } from '../coarseCells.ts';
import { type Kernels, Layout } from './kernelModule.ts';

/** `coarseCellsPlain`, a row of cells at a time. */
export function coarseCellsByKernel(
  kernels: Kernels,
  { widthPx, heightPx, wordsPerRow, words }: BitPlane,
  factorX: number,
  factorY: number,
): CoarseCells {
  const opaque = createBitPlane(Math.ceil(widthPx / factorX), Math.ceil(heightPx / factorY));
  const clear = createBitPlane(opaque.widthPx, opaque.heightPx);
  const layout = new Layout(kernels);
  const rowBytes = 4 * wordsPerRow;
  const band = layout.take(rowBytes * factorY);
  const scratch = layout.take(2 * rowBytes + 32);
  const cellBytes = 4 * opaque.words.length;
  const opaqueAt = layout.take(cellBytes);
  const clearAt = layout.take(cellBytes);
  const memory = new Uint32Array(kernels.memory.buffer);
  memory.fill(0, opaqueAt >> 2, (clearAt + cellBytes) >> 2);
  let blackRuns = 0;
  for (let cellRow = 0; cellRow < opaque.heightPx; cellRow++) {
    const top = cellRow * factorY;
    const bottom = Math.min(heightPx, top + factorY);
    memory.set(words.subarray(top * wordsPerRow, bottom * wordsPerRow), band >> 2);
    const at = 4 * cellRow * opaque.wordsPerRow;
    blackRuns += kernels.cellRow(band, bottom - top, rowBytes, widthPx, factorX, scratch, opaqueAt + at, clearAt + at);
  }
  opaque.words.set(memory.subarray(opaqueAt >> 2, (opaqueAt + cellBytes) >> 2));
  clear.words.set(memory.subarray(clearAt >> 2, (clearAt + cellBytes) >> 2));
  return { opaque, clear, blackRuns };
}
