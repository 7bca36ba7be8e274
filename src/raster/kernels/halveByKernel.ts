import type { BitPlane } from '../bitPlane.ts';
import { bandRows, type Kernels, Layout } from './kernelModule.ts';

/** `halvePlain`, 64 pixels a step, into the words of a plane of half the size. */
export function halveByKernel(kernels: Kernels, plane: BitPlane, half: BitPlane): BitPlane {
  const { heightPx, wordsPerRow, words } = half;
  const layout = new Layout(kernels);
  const rowBytes = 4 * plane.wordsPerRow;
  const source = layout.take(rowBytes * 2 * bandRows);
  const target = layout.take(4 * wordsPerRow);
  const memory = new Uint32Array(kernels.memory.buffer);
  const halved = memory.subarray(target >> 2, (target >> 2) + wordsPerRow);
  halved.fill(0);
  for (let top = 0; top < heightPx; top += bandRows) {
    const bottom = Math.min(heightPx, top + bandRows);
    const sourceBottom = Math.min(plane.heightPx, 2 * bottom);
    memory.set(plane.words.subarray(2 * top * plane.wordsPerRow, sourceBottom * plane.wordsPerRow), source >> 2);
    for (let row = top; row < bottom; row++) {
      const upper = source + 2 * (row - top) * rowBytes;
      const lower = 2 * row + 1 < plane.heightPx ? upper + rowBytes : upper;
      kernels.halveRows(upper, lower, plane.wordsPerRow, target);
      words.set(halved, row * wordsPerRow);
    }
  }
  return half;
}
