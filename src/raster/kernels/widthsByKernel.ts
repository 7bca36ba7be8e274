import type { BitPlane } from '../bitPlane.ts';
import type { ShapePoints } from '../shapeWidths.ts';
import { type Kernels, Layout } from './kernelModule.ts';

const batch = 16384;

/** `widthsPlain`, in one go over many pixels. */
export function widthsByKernel(
  kernels: Kernels,
  plane: BitPlane,
  inverted: boolean,
  rowPitch: number,
  points: ShapePoints,
  limitPx: number,
): Float32Array {
  const { columns, rows, scale } = points;
  const widths = new Float32Array(columns.length);
  if (columns.length === 0) return widths;
  const layout = new Layout(kernels);
  const planeAt = layout.take(4 * plane.words.length);
  const columnsAt = layout.take(4 * batch);
  const rowsAt = layout.take(4 * batch);
  const widthsAt = layout.take(4 * batch);
  const memory = new Int32Array(kernels.memory.buffer);
  const answers = new Float32Array(kernels.memory.buffer, widthsAt, batch);
  memory.set(plane.words, planeAt >> 2);
  kernels.beginWidths(planeAt, plane.wordsPerRow, plane.widthPx, plane.heightPx, inverted ? 1 : 0, rowPitch);
  for (let from = 0; from < columns.length; from += batch) {
    const to = Math.min(columns.length, from + batch);
    memory.set(columns.subarray(from, to), columnsAt >> 2);
    memory.set(rows.subarray(from, to), rowsAt >> 2);
    kernels.widthsAcross(columnsAt, rowsAt, to - from, scale, limitPx, widthsAt);
    widths.set(answers.subarray(0, to - from), from);
  }
  return widths;
}
