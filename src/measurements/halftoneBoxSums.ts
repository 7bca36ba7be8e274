/**
 * Sum of a square of values to `reach` each way around each; beyond the edges lies nothing.
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

/** How many of each cell and its eight neighbours are 1; beyond the edges lies nothing. */
export function countAround(flags: Uint8Array, columns: number, rows: number): Uint8Array {
  const counts = new Uint8Array(flags.length);
  const sums = new Uint8Array(columns + 2);
  for (let row = 0; row < rows; row++) {
    const from = row * columns;
    for (let k = 0; k < columns; k++) sums[k + 1] = flags[from + k];
    if (row > 0) for (let k = 0; k < columns; k++) sums[k + 1] += flags[from - columns + k];
    if (row + 1 < rows) for (let k = 0; k < columns; k++) sums[k + 1] += flags[from + columns + k];
    for (let k = 0; k < columns; k++) counts[from + k] = sums[k] + sums[k + 1] + sums[k + 2];
  }
  return counts;
}
