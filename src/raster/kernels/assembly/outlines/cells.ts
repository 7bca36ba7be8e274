/*
 * Edges of packed planes: which cells of 8 x 8 px hold one. Off the plane is clear.
 */

/**
 * Marks in `cells` (cleared before) the cells with a pixel beside one of another kind. `scratch` has room for a row of
 * the plane.
 */
export function findEdgeCells(
  plane: usize,
  wordsPerRow: i32,
  heightPx: i32,
  fromCellRow: i32,
  toCellRow: i32,
  cells: usize,
  cellWordsPerRow: i32,
  scratch: usize,
): void {
  const stride = <usize>wordsPerRow << 2;
  for (let cellRow = fromCellRow; cellRow < toCellRow; cellRow++) {
    memory.fill(scratch, 0, stride);
    const end = min(heightPx, (cellRow + 1) << 3);
    for (let row = cellRow << 3; row < end; row++) {
      addEdges(plane + <usize>row * stride, wordsPerRow, row > 0, row + 1 < heightPx, scratch);
    }
    gatherCells(scratch, wordsPerRow, cells + ((<usize>(cellRow * cellWordsPerRow)) << 2));
  }
}

/** Adds a row's pixels that differ from one of their four neighbours, 64 columns a step. */
function addEdges(row: usize, wordsPerRow: i32, hasAbove: bool, hasBelow: bool, edges: usize): void {
  const stride = <usize>wordsPerRow << 2;
  let before: u64 = 0;
  let word = load<u64>(row);
  for (let at: usize = 0; at < stride; at += 8) {
    const next = at + 8 < stride ? load<u64>(row + at + 8) : 0;
    const above = hasAbove ? load<u64>(row + at - stride) : 0;
    const below = hasBelow ? load<u64>(row + at + stride) : 0;
    const upright = (word ^ ((word << 1) | (before >> 63))) | (word ^ ((word >> 1) | (next << 63)));
    store<u64>(edges + at, load<u64>(edges + at) | upright | (word ^ above) | (word ^ below));
    before = word;
    word = next;
  }
}

/** One bit for every eight columns that hold a marked pixel. */
function gatherCells(edges: usize, wordsPerRow: i32, cells: usize): void {
  for (let w = 0; w < wordsPerRow; w += 2) {
    let folded = load<u64>(edges + (<usize>w << 2));
    folded |= folded >> 4;
    folded |= folded >> 2;
    folded = (folded | (folded >> 1)) & 0x0101010101010101;
    // The lowest bits of the eight bytes, brought together in the highest byte.
    const eight = (folded * 0x0102040810204080) >> 56;
    store<u8>(cells + (w >> 1), <u8>eight);
  }
}

/** Number of pixels opaque in both of two planes of so many 32-bit words, an even number. */
export function sharedPixels(a: usize, b: usize, words: i32): i32 {
  let count: u64 = 0;
  const end = a + (<usize>words << 2);
  for (let at = a; at < end; at += 8) {
    count += popcnt<u64>(load<u64>(at) & load<u64>(b + at - a));
  }
  return <i32>count;
}
