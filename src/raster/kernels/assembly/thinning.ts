import { fromAfter, fromBefore, loadRow, tailMask, usedWords } from './rows';

/*
 * Thinning by the rules of Guo and Hall (CACM 32, 1989, algorithm A1), 128 pixels a step, in place: what a turn takes
 * from a row is taken when the row below has been looked at. A bit for every 128 pixels says whether any of them can
 * still be peeled, and others whether they changed in either of the last two turns: a turn looks one way only, so those
 * with no change around them in two turns need no look.
 */
let shape: usize = 0;
let peelable: usize = 0;
/** Bytes from row to row: a guard of 16 bytes, the row, a guard. */
let stride: i32 = 0;
let flip: u64 = 0;
let beyond: u64 = 0;
let widthPx: i32 = 0;
let heightPx: i32 = 0;
/** Bytes from row to row of the bits below, one for every 128 pixels. */
let markBytes: i32 = 0;
/** Where pixels can still be peeled. */
let live: usize = 0;
/** Where pixels are taken in this turn. */
let taken: usize = 0;
/** Where pixels on a row, or beside it on either side, were taken in this turn, the one before and the one before that. */
let touched: usize = 0;
let touchedBefore: usize = 0;
let touchedEarlier: usize = 0;
/** What is to be taken from this row and from the row above, as wide as a row. */
let taking: usize = 0;
let takingAbove: usize = 0;
let emitted: i32 = 0;

export function thinningStride(width: i32): i32 {
  return (((usedWords(width) + 1) >> 1) << 4) + 32;
}

function markBytesFor(width: i32): i32 {
  return ((thinningStride(width) - 32 + 1023) >> 10) << 3;
}

/** Bytes a thinning needs besides the two planes of `thinningStride` times the height and two. */
export function thinningScratchBytes(width: i32, height: i32): i32 {
  return 5 * markBytesFor(width) * (height + 2) + 2 * thinningStride(width);
}

export function beginThinning(
  width: i32,
  height: i32,
  flipBit: bool,
  beyondBit: bool,
  shapeAt: usize,
  peelableAt: usize,
  scratch: usize,
): void {
  shape = shapeAt;
  peelable = peelableAt;
  widthPx = width;
  heightPx = height;
  stride = thinningStride(width);
  markBytes = markBytesFor(width);
  const marks = markBytes * (height + 2);
  live = scratch;
  taken = live + marks;
  touched = taken + marks;
  touchedBefore = touched + marks;
  touchedEarlier = touchedBefore + marks;
  taking = touchedEarlier + marks;
  takingAbove = taking + stride;
  memory.fill(live, 0, 5 * marks);
  flip = flipBit ? <u64>-1 : 0;
  beyond = beyondBit ? <u64>-1 : 0;
  fillRow(0);
  fillRow(height + 1);
}

/** Takes rows `from` up to, not including, `to` of the shape and of what is kept of it (0: nothing). */
export function loadThinningRows(from: i32, to: i32, plane: usize, kept: usize, wordsPerRow: i32): void {
  const rowBytes = wordsPerRow << 2;
  for (let row = from; row < to; row++) {
    const offset = (row - from) * rowBytes;
    loadShapeRow(row + 1, plane + offset, kept == 0 ? 0 : kept + offset);
  }
}

function loadShapeRow(row: i32, plane: usize, kept: usize): void {
  const used = usedWords(widthPx);
  const to = shape + row * stride;
  v128.store(to, i64x2.splat(beyond));
  v128.store(to + stride - 16, i64x2.splat(beyond));
  loadRow(plane, to + 16, widthPx, (stride - 32) >> 3, flip, beyond);
  const free = peelable + row * stride;
  v128.store(free, i64x2.splat(0));
  v128.store(free + stride - 16, i64x2.splat(0));
  for (let word = 0; word < used; word += 2) {
    const k = word << 3;
    let value = v128.load(to + 16 + k);
    if (kept != 0) value = v128.andnot(value, v128.load(kept + k));
    if (word + 2 >= used) value = v128.and(value, onFilm(used - word));
    v128.store(free + 16 + k, value);
    if (v128.any_true(value)) mark(live + row * markBytes, word >> 1);
  }
}

/** Mask of the columns of a row's last 128 that lie on the film, of which so many words are used. */
function onFilm(words: i32): v128 {
  const tail = tailMask(widthPx);
  return words == 1 ? i64x2.replace_lane(i64x2.splat(0), 0, tail) : i64x2.replace_lane(i64x2.splat(-1), 1, tail);
}

// @ts-ignore: decorator
@inline
function mark(marks: usize, vector: i32): void {
  const at = marks + ((vector >> 6) << 3);
  store<u64>(at, load<u64>(at) | ((<u64>1) << (vector & 63)));
}

function fillRow(row: i32): void {
  memory.fill(shape + row * stride, <u8>beyond, stride);
  memory.fill(peelable + row * stride, 0, stride);
}

/** Takes away the pixel to the right of every pixel off the shape that has eight neighbours on it. */
export function widenPinholes(): void {
  for (let row = 1; row <= heightPx; row++) {
    const at = shape + row * stride;
    const marks = live + row * markBytes;
    for (let word = 0; word < markBytes; word += 8) {
      const here = load<u64>(marks + word);
      // What is taken lies to the right of the hole, if need be in the next 128 pixels.
      let look = here | (here >>> 1);
      if (word + 8 < markBytes) look |= load<u64>(marks + word, 8) << 63;
      for (; look != 0; look &= look - 1) {
        const k = 16 + (((word << 3) + <i32>ctz(look)) << 4);
        const c = v128.load(at + k);
        const holes = v128.andnot(surrounded(at + k, c, at - stride + k, at + stride + k), c);
        if (v128.any_true(holes)) takeRightOf(holes, k, row);
      }
    }
    takeFrom(row - 1);
  }
  takeFrom(heightPx);
}

function surrounded(at: usize, c: v128, over: usize, under: usize): v128 {
  const n = v128.load(over);
  const s = v128.load(under);
  const beside = v128.and(fromBefore(at, c, 1), fromAfter(at, c, 1));
  const north = v128.and(n, v128.and(fromBefore(over, n, 1), fromAfter(over, n, 1)));
  const south = v128.and(s, v128.and(fromBefore(under, s, 1), fromAfter(under, s, 1)));
  return v128.and(beside, v128.and(north, south));
}

/** Notes the peelable pixels to the right of some to be taken from their row. */
function takeRightOf(holes: v128, k: i32, row: i32): void {
  const free = peelable + row * stride + k;
  const vector = (k - 16) >> 4;
  const before = i64x2.shl(holes, 1);
  const low = i64x2.extract_lane(holes, 0);
  const carried = i64x2.replace_lane(i64x2.splat(0), 1, <u64>low >>> 63);
  const marks = taken + row * markBytes;
  note(marks, vector, v128.and(v128.or(before, carried), v128.load(free)));
  const last = i64x2.replace_lane(i64x2.splat(0), 0, <u64>i64x2.extract_lane(holes, 1) >>> 63);
  const next = v128.and(last, v128.load(free + 16));
  if (v128.any_true(next)) note(marks, vector + 1, next);
}

/** Adds pixels to those to be taken of 128. */
function note(marks: usize, vector: i32, pixels: v128): void {
  const at = taking + (vector << 4);
  const seen = (load<u64>(marks + ((vector >> 6) << 3)) >>> (vector & 63)) & 1;
  v128.store(at, seen == 1 ? v128.or(v128.load(at), pixels) : pixels);
  mark(marks, vector);
}

/** Takes what was noted from a row, once those beside it have been looked at as it was; the next row's turn begins. */
function takeFrom(row: i32): void {
  const marks = taken + row * markBytes;
  const at = shape + row * stride + 16;
  for (let word = 0; word < markBytes; word += 8) {
    for (let left = load<u64>(marks + word); left != 0; left &= left - 1) {
      const bit = <i32>ctz(left);
      const k = ((word << 3) + bit) << 4;
      const value = v128.andnot(v128.load(at + k), v128.load(takingAbove + k));
      v128.store(at + k, value);
      if (v128.any_true(v128.and(value, v128.load(peelable + row * stride + 16 + k)))) continue;
      const lives = live + row * markBytes + word;
      store<u64>(lives, load<u64>(lives) & ~((<u64>1) << bit));
    }
  }
  const free = takingAbove;
  takingAbove = taking;
  taking = free;
}

/**
 * One turn over rows `from` up to, not including, `to`, counted from 0; all rows are passed in order. Answers how many
 * times 128 pixels changed.
 */
export function peelRows(from: i32, to: i32, turn: i32): i32 {
  if (from == 0) {
    const oldest = touchedEarlier;
    touchedEarlier = touchedBefore;
    touchedBefore = touched;
    touched = oldest;
    memory.fill(touched, 0, markBytes * (heightPx + 2));
    memory.fill(taken, 0, markBytes * (heightPx + 2));
  }
  let changed = 0;
  for (let row = from + 1; row <= to; row++) {
    changed += peelRow(row, turn);
    takeFrom(row - 1);
  }
  if (to == heightPx) takeFrom(heightPx);
  return changed;
}

function peelRow(row: i32, turn: i32): i32 {
  const at = shape + row * stride;
  const marks = row * markBytes;
  const vectors = (stride - 32) >> 4;
  let changed = 0;
  for (let word = 0; word < markBytes; word += 8) {
    let look = load<u64>(live + marks + word);
    if (turn > 2) look &= lateAround(marks + word);
    for (; look != 0; look &= look - 1) {
      const vector = (word << 3) + <i32>ctz(look);
      const k = 16 + (vector << 4);
      const left = v128.and(v128.load(peelable + row * stride + k), v128.load(at + k));
      const removed = v128.and(left, removable(at + k, at - stride + k, at + stride + k, turn));
      if (!v128.any_true(removed)) continue;
      v128.store(taking + (vector << 4), removed);
      mark(taken + marks, vector);
      mark(touched + marks, vector);
      if ((i64x2.extract_lane(removed, 0) & 1) != 0 && vector > 0) mark(touched + marks, vector - 1);
      if (i64x2.extract_lane(removed, 1) < 0) mark(touched + marks, min(vector + 1, vectors - 1));
      changed++;
    }
  }
  return changed;
}

/** Where pixels around those of a row were taken in the last two turns. */
// @ts-ignore: decorator
@inline
function lateAround(mark: i32): u64 {
  return lateAt(mark - markBytes) | lateAt(mark) | lateAt(mark + markBytes);
}

// @ts-ignore: decorator
@inline
function lateAt(mark: i32): u64 {
  return load<u64>(touchedBefore + mark) | load<u64>(touchedEarlier + mark);
}

// @ts-ignore: decorator
@inline
function both(a: v128, b: v128): v128 {
  return v128.and(a, b);
}

// @ts-ignore: decorator
@inline
function either(a: v128, b: v128): v128 {
  return v128.or(a, b);
}

/** The pixels that this turn may take away: simple, no line end, on the sides the turn looks at. Odd turns come first. */
// @ts-ignore: decorator
@inline
function removable(at: usize, over: usize, under: usize, turn: i32): v128 {
  const c = v128.load(at);
  const n = v128.load(over);
  const s = v128.load(under);
  const p8 = fromBefore(at, c, 1);
  const p4 = fromAfter(at, c, 1);
  const p9 = fromBefore(over, n, 1);
  const p3 = fromAfter(over, n, 1);
  const p7 = fromBefore(under, s, 1);
  const p5 = fromAfter(under, s, 1);
  const ne = either(p3, p4);
  const se = either(p5, s);
  const sw = either(p7, p8);
  const nw = either(p9, n);
  const a = v128.andnot(ne, n);
  const b = v128.andnot(se, p4);
  const d = v128.andnot(sw, s);
  const e = v128.andnot(nw, p8);
  const simple = either(v128.andnot(v128.xor(a, b), either(d, e)), v128.andnot(v128.xor(d, e), either(a, b)));
  if (!v128.any_true(simple)) return simple;
  const east = either(p4, p5);
  const west = either(p8, p9);
  const north = either(n, p3);
  const south = either(s, p7);
  const twoOfFirst = either(either(both(nw, ne), both(se, sw)), both(either(nw, ne), either(se, sw)));
  const twoOfSecond = either(
    either(both(north, east), both(south, west)),
    both(either(north, east), either(south, west)),
  );
  const allOfFirst = both(both(nw, ne), both(se, sw));
  const allOfSecond = both(both(north, east), both(south, west));
  const side =
    (turn & 1) == 1
      ? both(either(either(s, p7), v128.not(p9)), p8)
      : both(either(either(n, p3), v128.not(p5)), p4);
  const fit = both(both(c, simple), both(twoOfFirst, twoOfSecond));
  return v128.andnot(v128.andnot(fit, both(allOfFirst, allOfSecond)), side);
}

/**
 * Writes what is left of the peelable part on rows `from` up to, not including, `to`, as far as there is surely room:
 * for every 32 pixels where anything is, four numbers: row, word, the lines, and the kept pixels of the shape beside
 * them. Answers the next row; `emittedWords` says how many entries there are.
 */
export function emitLines(from: i32, to: i32, target: usize, room: i32): i32 {
  emitted = 0;
  for (let row = from; row < to; row++) {
    if (emitted + 2 * usedWords(widthPx) > room) return row;
    emitRow(row, target);
  }
  return to;
}

export function emittedWords(): i32 {
  return emitted;
}

function emitRow(row: i32, target: usize): void {
  const at = (row + 1) * stride;
  const marks = (row + 1) * markBytes;
  const used = usedWords(widthPx);
  let before: u64 = 0;
  for (let mark = 0; mark < markBytes; mark += 8) {
    const around = liveAround(marks + mark);
    const next = mark + 8 < markBytes ? liveAround(marks + mark + 8) : 0;
    let look = around | (around << 1) | (around >>> 1) | (before >>> 63) | (next << 63);
    before = around;
    for (; look != 0; look &= look - 1) {
      const word = ((mark << 3) + <i32>ctz(look)) << 1;
      if (word < used) emitWord(row, word, at + 16 + (word << 3), word == used - 1, target);
      if (word + 1 < used) emitWord(row, word + 1, at + 24 + (word << 3), word + 1 == used - 1, target);
    }
  }
}

/** Where in a row, the one above and the one below lines are left. */
// @ts-ignore: decorator
@inline
function liveAround(mark: i32): u64 {
  return load<u64>(live + mark - markBytes) | load<u64>(live + mark) | load<u64>(live + mark + markBytes);
}

function emitWord(row: i32, word: i32, offset: i32, isLast: bool, target: usize): void {
  const own = linesAround(offset);
  const beside = own | (own << 1) | (own >>> 1) | (linesAround(offset - 8) >>> 63) | (linesAround(offset + 8) << 63);
  if (beside == 0) return;
  const shapeWord = load<u64>(shape + offset);
  const free = load<u64>(peelable + offset);
  let body = beside & shapeWord & ~free;
  if (isLast) body &= tailMask(widthPx);
  const lines = shapeWord & free;
  emit(row, word << 1, <u32>lines, <u32>body, target);
  emit(row, (word << 1) + 1, <u32>(lines >>> 32), <u32>(body >>> 32), target);
}

/** The lines in 64 columns of a row, the one above and the one below. */
// @ts-ignore: decorator
@inline
function linesAround(offset: i32): u64 {
  return linesAt(offset) | linesAt(offset - stride) | linesAt(offset + stride);
}

// @ts-ignore: decorator
@inline
function linesAt(offset: i32): u64 {
  return load<u64>(shape + offset) & load<u64>(peelable + offset);
}

function emit(row: i32, word: i32, lines: u32, body: u32, target: usize): void {
  if ((lines | body) == 0) return;
  const entry = target + (emitted << 4);
  store<i32>(entry, row);
  store<i32>(entry, word, 4);
  store<u32>(entry, lines, 8);
  store<u32>(entry, body, 12);
  emitted++;
}
