/**
 * Adds to the count of each cell the opaque pixels it has on so many rows; cell c covers the columns from c · `columns`
 * on. @param columns up to 57: with up to seven bits before it, a cell is then read in one word
 */
export function countCells(row: usize, rows: i32, rowBytes: i32, width: i32, columns: i32, counts: usize): void {
  const mask: u64 = ((<u64>1) << columns) - 1;
  const whole = width / columns;
  const rest = width - whole * columns;
  for (let at = row, end = row + rows * rowBytes; at < end; at += rowBytes) {
    for (let cell = 0, bit = 0; cell < whole; cell++, bit += columns) addCell(at, bit, mask, counts + (cell << 2));
    if (rest > 0) addCell(at, whole * columns, ((<u64>1) << rest) - 1, counts + (whole << 2));
  }
}

// @ts-ignore: decorator
@inline
function addCell(row: usize, bit: i32, mask: u64, count: usize): void {
  const bits = (load<u64>(row + (bit >> 3)) >>> (bit & 7)) & mask;
  if (bits != 0) store<u32>(count, load<u32>(count) + <u32>popcnt(bits));
}
