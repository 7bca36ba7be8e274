import { type Kernels, Layout } from './kernelModule.ts';

/** `boxSumsPlain`, so many turns. */
export function boxSumsByKernel(
  kernels: Kernels,
  values: Float32Array,
  columns: number,
  rows: number,
  reach: number,
  into: Float32Array,
  isKept: Uint8Array | null,
  turns: number,
): Float32Array {
  const count = columns * rows;
  const side = 2 * reach + 1;
  const layout = new Layout(kernels);
  const valuesAt = layout.take(4 * count);
  const keptAt = layout.take(isKept === null ? 0 : count);
  const linesAt = layout.take(4 * side * columns);
  const sumsAt = layout.take(8 * (columns + side));
  const { buffer } = kernels.memory;
  const held = new Float32Array(buffer, valuesAt, count);
  held.set(values);
  if (isKept !== null) new Uint8Array(buffer, keptAt, count).set(isKept);
  for (let turn = 0; turn < turns; turn++) {
    kernels.boxSums(valuesAt, columns, rows, reach, turn === 0 && isKept !== null ? keptAt : 0, linesAt, sumsAt);
  }
  into.set(held);
  return into;
}
