/*
 * What two planes have in parts of rows: pixels where both are opaque, and the pixel sides of the first plane's outlines
 * within marked tiles of 32 × 32 pixels.
 */
let own: usize = 0;
let other: usize = 0;
let tiles: usize = 0;
let wordsPerRow: i32 = 0;
let shared: i64 = 0;
let level: i64 = 0;
let upright: i64 = 0;

export function beginSpans(ownAt: usize, otherAt: usize, words: i32, tilesAt: usize): void {
  own = ownAt;
  other = otherAt;
  wordsPerRow = words;
  tiles = tilesAt;
  shared = 0;
  level = 0;
  upright = 0;
}

/** Counts on a row from a column to before another. */
export function countSpan(row: i32, from: i32, end: i32): void {
  const start = row * wordsPerRow;
  const tileStart = (row >> 5) * wordsPerRow;
  for (let w = from >> 5; w <= (end - 1) >> 5; w++) {
    const mask = maskOf(w, from, end);
    const at = (start + w) << 2;
    const word = load<u32>(own + at);
    const above = row > 0 ? load<u32>(own + at - (wordsPerRow << 2)) : 0;
    const before = w > 0 ? load<u32>(own + at - 4) >>> 31 : 0;
    if ((word | above | before) == 0) continue;
    shared += popcnt(word & load<u32>(other + at) & mask);
    if (load<u8>(tiles + tileStart + w) == 0) continue;
    level += popcnt((word ^ above) & mask);
    upright += popcnt((word ^ ((word << 1) | before)) & mask);
  }
}

export function sharedInSpans(): f64 {
  return <f64>shared;
}

export function levelSides(): f64 {
  return <f64>level;
}

export function uprightSides(): f64 {
  return <f64>upright;
}

/** The bits of a word whose columns lie from `from` to before `end`. */
// @ts-ignore: decorator
@inline
function maskOf(w: i32, from: i32, end: i32): u32 {
  const low = max(0, from - 32 * w);
  const high = min(32, end - 32 * w);
  return (high == 32 ? <u32>-1 : ((<u32>1) << high) - 1) & ((<u32>-1) << low);
}
