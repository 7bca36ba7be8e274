import { type BitPlane, wordsPerRowFor } from '../bitPlane.ts';
import { bandRows, type Kernels, Layout } from './kernelModule.ts';

/** `halvePlain`, 64 pixels a step. */
export function halveByKernel(kernels: Kernels, plane: BitPlane): BitPlane {
  const widthPx = Math.ceil(plane.widthPx / 2);
  const heightPx = Math.ceil(plane.heightPx / 2);
  const wordsPerRow = wordsPerRowFor(widthPx);
  const words = new Uint32Array(wordsPerRow * heightPx);
  const layout = new Layout(kernels);
  const rowBytes = 4 * plane.wordsPerRow;
  const source = layout.take(rowBytes * 2 * bandRows);
  const target = layout.take(4 * wordsPerRow);
  const memory = new Uint32Array(kernels.memory.buffer);
  const row = memory.subarray(target >> 2, (target >> 2) + wordsPerRow);
  row.fill(0);
  for (let top = 0; top < heightPx; top += bandRows) {
    const bottom = Math.min(heightPx, top + bandRows);
    const sourceBottom = Math.min(plane.heightPx, 2 * bottom);
    memory.set(plane.words.subarray(2 * top * plane.wordsPerRow, sourceBottom * plane.wordsPerRow), source >> 2);
    for (let half = top; half < bottom; half++) {
      const upper = source + 2 * (half - top) * rowBytes;
      const lower = 2 * half + 1 < plane.heightPx ? upper + rowBytes : upper;
      kernels.halveRows(upper, lower, plane.wordsPerRow, target);
      words.set(row, half * wordsPerRow);
    }
  }
  return { widthPx, heightPx, wordsPerRow, words };
}
