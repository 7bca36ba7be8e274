/**
 * Puts the sum of a square of values, f32, to `reach` each way around each in its place; beyond the edges lies nothing.
 * @param kept u8 by values, those that count 1; 0: all count
 * @param lines as many rows as a square has, f32, and @param sums f64, a row and a square's side
 */
export function boxSums(
  values: usize,
  columns: i32,
  rows: i32,
  reach: i32,
  kept: usize,
  lines: usize,
  sums: usize,
): void {
  const side = 2 * reach + 1;
  // The rows of the square as they were, and the sums down them with nothing on either side.
  memory.fill(lines, 0, (side * columns) << 2);
  memory.fill(sums, 0, (columns + side) << 3);
  const before = sums + ((reach + 1) << 3);
  for (let entering = 0; entering < rows + reach; entering++) {
    const line = lines + (((entering % side) * columns) << 2);
    const from = values + ((entering * columns) << 2);
    const flags = kept + entering * columns;
    for (let column = 0; column < columns; column++) {
      const isIn = entering < rows && (kept == 0 || load<u8>(flags + column) == 1);
      const value: f32 = isIn ? load<f32>(from + (column << 2)) : 0;
      const sum = before + (column << 3);
      store<f64>(sum, load<f64>(sum) + (<f64>value - <f64>load<f32>(line + (column << 2))));
      store<f32>(line + (column << 2), value);
    }
    if (entering < reach) continue;
    const target = values + (((entering - reach) * columns) << 2);
    let sum: f64 = 0;
    for (let k = 0; k < reach; k++) sum += load<f64>(before + (k << 3));
    for (let column = 0; column < columns; column++) {
      sum += load<f64>(sums + ((column + side) << 3)) - load<f64>(sums + (column << 3));
      store<f32>(target + (column << 2), <f32>sum);
    }
  }
}
