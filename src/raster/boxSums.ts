import { boxSumsByKernel } from './kernels/boxSumsByKernel.ts';
import { kernels } from './kernels/kernelModule.ts';

/**
 * Sum of a square of values to `reach` each way around each, `turns` times over; beyond the edges lies nothing.
 * @param isKept values that count, 1; the others are taken as 0
 * @param into may be `values` themselves
 */
export function boxSums(
  values: Float32Array,
  columns: number,
  rows: number,
  reach: number,
  into: Float32Array,
  isKept: Uint8Array | null = null,
  turns = 1,
): Float32Array {
  const loaded = kernels();
  if (loaded !== null) return boxSumsByKernel(loaded, values, columns, rows, reach, into, isKept, turns);
  boxSumsPlain(values, columns, rows, reach, into, isKept);
  for (let turn = 1; turn < turns; turn++) boxSumsPlain(into, columns, rows, reach, into, null);
  return into;
}

/** `boxSums` of one turn, row by row. */
export function boxSumsPlain(
  values: Float32Array,
  columns: number,
  rows: number,
  reach: number,
  into: Float32Array,
  isKept: Uint8Array | null,
): Float32Array {
  const side = 2 * reach + 1;
  // The rows of the square as they were, and the sums down them with nothing on either side.
  const lines = new Float32Array(side * columns);
  const sums = new Float64Array(columns + side);
  const before = reach + 1;
  for (let entering = 0; entering < rows + reach; entering++) {
    const line = (entering % side) * columns;
    const from = entering * columns;
    for (let column = 0; column < columns; column++) {
      const isIn = entering < rows && (isKept === null || isKept[from + column] === 1);
      const value = isIn ? values[from + column] : 0;
      sums[before + column] += value - lines[line + column];
      lines[line + column] = value;
    }
    if (entering < reach) continue;
    const target = (entering - reach) * columns;
    let sum = 0;
    for (let k = before; k < before + reach; k++) sum += sums[k];
    for (let column = 0; column < columns; column++) {
      sum += sums[column + side] - sums[column];
      into[target + column] = sum;
    }
  }
  return into;
}
