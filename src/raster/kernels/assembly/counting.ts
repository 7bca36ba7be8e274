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

/** How many bits are 1 in so many bytes, a multiple of 16. */
export function countBits(at: usize, bytes: i32): i32 {
  let total = i64x2.splat(0);
  for (let k = 0; k < bytes; k += 16) {
    const pairs = i16x8.extadd_pairwise_i8x16_u(i8x16.popcnt(v128.load(at + k)));
    const fours = i32x4.extadd_pairwise_i16x8_u(pairs);
    total = i64x2.add(total, i64x2.add(i64x2.extend_low_i32x4_u(fours), i64x2.extend_high_i32x4_u(fours)));
  }
  return <i32>(i64x2.extract_lane(total, 0) + i64x2.extract_lane(total, 1));
}

/**
 * Adds the changes between opaque and clear on a row to the counts of its tiles, along the row and from the row above;
 * the change from one 32-pixel word to the next is left out.
 * @param above the row above, or the row itself where there is none
 */
export function countEdges(row: usize, above: usize, words: i32, wordsPerTile: i32, across: usize, down: usize): void {
  let index = 0;
  for (let tile = 0; index < words; tile++) {
    const end = min(words, index + wordsPerTile);
    let along = 0;
    let between = 0;
    for (; index < end; index++) {
      const word = load<u32>(row + (index << 2));
      along += popcnt((word ^ (word >>> 1)) & 0x7fffffff);
      between += popcnt(word ^ load<u32>(above + (index << 2)));
    }
    if ((along | between) == 0) continue;
    const at = tile << 2;
    store<u32>(across + at, load<u32>(across + at) + <u32>along);
    store<u32>(down + at, load<u32>(down + at) + <u32>between);
  }
}
