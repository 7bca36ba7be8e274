/** Cells told at once: with a whole word of them and seven bits before, they are read in one. */
const mostAtOnce: i32 = 24;
/** Bits of a word of 64 that are sure to be there, wherever it begins in a byte. */
const sureBits: i32 = 57;

/**
 * Which cells of a row of cells have any opaque pixel, and which any clear one, and answers how many words of them have
 * a cell without a clear one.
 * @param rows the pixel rows of the cells @param columns pixels along a cell @param scratch two rows and 32 bytes
 * @param opaque where words of cells are written, 0 to begin with, and `clear`
 */
export function cellRow(
  rows: usize,
  rowCount: i32,
  rowBytes: i32,
  widthPx: i32,
  columns: i32,
  scratch: usize,
  opaque: usize,
  clear: usize,
): i32 {
  const end = rows + rowCount * rowBytes;
  const other = scratch + rowBytes + 16;
  // The last cell may reach beyond the row.
  v128.store(scratch + rowBytes, i64x2.splat(0));
  v128.store(other + rowBytes, i64x2.splat(0));
  for (let byte = 0; byte < rowBytes; byte += 8) {
    let some: u64 = 0;
    let all: u64 = -1;
    for (let at = rows + byte; at < end; at += rowBytes) {
      const word = load<u64>(at);
      some |= word;
      all &= word;
    }
    const width = widthPx - (byte << 3);
    const within = width >= 64 ? <u64>-1 : ((<u64>1) << width) - 1;
    store<u64>(scratch + byte, some);
    store<u64>(other + byte, ~all & within);
  }
  const cells = (widthPx + columns - 1) / columns;
  flagCells(scratch, widthPx, columns, opaque);
  flagCells(other, widthPx, columns, clear);
  let black = 0;
  for (let word = 0; word < (cells + 31) >> 5; word++) {
    if ((load<u32>(opaque + (word << 2)) & ~load<u32>(clear + (word << 2))) != 0) black++;
  }
  return black;
}

/** Sets the bits of cells that have any bit of a row. */
function flagCells(row: usize, widthPx: i32, columns: i32, target: usize): void {
  const cells = (widthPx + columns - 1) / columns;
  if (columns > sureBits) {
    for (let cell = 0, from = 0; cell < cells; cell++, from += columns) {
      if (anyOf(row, from, min(columns, widthPx - from))) setFlags(target, cell, 1);
    }
    return;
  }
  const own: u64 = ((<u64>1) << columns) - 1;
  const atOnce = min(sureBits / columns, mostAtOnce);
  const mask = ((<u64>1) << (atOnce * columns)) - 1;
  for (let cell = 0, bit = 0; cell < cells; cell += atOnce, bit += atOnce * columns) {
    let bits = (load<u64>(row + (bit >> 3)) >>> (bit & 7)) & mask;
    if (bits == 0) continue;
    const count = min(atOnce, cells - cell);
    let flags: u32 = 0;
    for (let k = 0; k < count; k++, bits >>>= columns) flags |= <u32>((bits & own) != 0) << k;
    setFlags(target, cell, flags);
  }
}

// @ts-ignore: decorator
@inline
function setFlags(target: usize, cell: i32, flags: u32): void {
  const at = target + (cell >> 3);
  store<u32>(at, load<u32>(at) | (flags << (cell & 7)));
}

function anyOf(row: usize, from: i32, count: i32): bool {
  for (let bit = from, left = count; left > 0; bit += sureBits, left -= sureBits) {
    const mask = (<u64>-1) >>> (64 - min(left, sureBits));
    if (((load<u64>(row + (bit >> 3)) >>> (bit & 7)) & mask) != 0) return true;
  }
  return false;
}
