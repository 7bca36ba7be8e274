import { fromAfter, fromBefore, loadRow, tailMask, usedWords } from './rows';

/*
 * Thinning by the rules of Guo and Hall (CACM 32, 1989, algorithm A1), 128 pixels a step, in place: the rows a turn has
 * changed are kept as they were until the row below has been looked at. Rows are parted into segments; one is looked
 * at again only when it or a segment beside it changed in either of the last two turns, as a turn looks one way only.
 */
const segmentBytes: i32 = 64;

let shape: usize = 0;
let peelable: usize = 0;
/** Bytes from row to row: a guard of 16 bytes, the row, a guard. */
let stride: i32 = 0;
let flip: u64 = 0;
let beyond: u64 = 0;
let widthPx: i32 = 0;
let heightPx: i32 = 0;
/** For every segment the last turn that changed it, two bytes each, with a border of one segment all round. */
let changes: usize = 0;
let segments: i32 = 0;
/** Bytes from row to row of `changes`, whole vectors. */
let marksBytes: i32 = 0;
let older: usize = 0;
let spare: usize = 0;
/** Where the row above stands as it was before this turn. */
let above: usize = 0;
let emitted: i32 = 0;

export function thinningStride(width: i32): i32 {
  return (((usedWords(width) + 1) >> 1) << 4) + 32;
}

function marksBytesFor(width: i32): i32 {
  return (2 * (segmentsFor(width) + 2) + 15) & ~15;
}

function segmentsFor(width: i32): i32 {
  return (thinningStride(width) - 32 + segmentBytes - 1) / segmentBytes;
}

/** Bytes a thinning needs besides the two planes of `thinningStride` times the height and two. */
export function thinningScratchBytes(width: i32, height: i32): i32 {
  return marksBytesFor(width) * (height + 2) + 2 * thinningStride(width);
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
  segments = segmentsFor(width);
  changes = scratch;
  marksBytes = marksBytesFor(width);
  const changesBytes = marksBytes * (height + 2);
  memory.fill(changes, 0, changesBytes);
  older = scratch + changesBytes;
  spare = older + stride;
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
    loadShapeRow(row, plane + offset, kept == 0 ? 0 : kept + offset);
  }
}

function loadShapeRow(row: i32, plane: usize, kept: usize): void {
  const used = usedWords(widthPx);
  const words = (stride - 32) >> 3;
  const to = shape + (row + 1) * stride;
  v128.store(to, i64x2.splat(beyond));
  v128.store(to + stride - 16, i64x2.splat(beyond));
  loadRow(plane, to + 16, widthPx, words, flip, beyond);
  const free = peelable + (row + 1) * stride;
  memory.copy(free, to, stride);
  v128.store(free, i64x2.splat(0));
  v128.store(free + stride - 16, i64x2.splat(0));
  const last = free + 16 + ((used - 1) << 3);
  store<u64>(last, load<u64>(last) & tailMask(widthPx));
  for (let word = used; word < words; word++) store<u64>(free + 16 + (word << 3), 0);
  if (kept == 0) return;
  for (let word = 0; word < used; word++) {
    const at = free + 16 + (word << 3);
    store<u64>(at, load<u64>(at) & ~load<u64>(kept + (word << 3)));
  }
}

function fillRow(row: i32): void {
  memory.fill(shape + row * stride, <u8>beyond, stride);
  memory.fill(peelable + row * stride, 0, stride);
}

/** Takes away the pixel to the right of every pixel off the shape that has eight neighbours on it. */
export function widenPinholes(): void {
  above = shape;
  for (let row = 1; row <= heightPx; row++) {
    const at = shape + row * stride;
    const old = keepRow(at);
    for (let k = 16; k < stride - 16; k += 16) {
      const c = v128.load(old + k);
      const holes = v128.andnot(surrounded(old + k, c, above + k, at + stride + k), c);
      if (!v128.any_true(holes)) continue;
      widen(holes, k, row);
    }
    above = old;
  }
}

function surrounded(at: usize, c: v128, over: usize, under: usize): v128 {
  const n = v128.load(over);
  const s = v128.load(under);
  const beside = v128.and(fromBefore(at, c, 1), fromAfter(at, c, 1));
  const north = v128.and(n, v128.and(fromBefore(over, n, 1), fromAfter(over, n, 1)));
  const south = v128.and(s, v128.and(fromBefore(under, s, 1), fromAfter(under, s, 1)));
  return v128.and(beside, v128.and(north, south));
}

function widen(holes: v128, k: i32, row: i32): void {
  const at = shape + row * stride + k;
  const free = peelable + row * stride + k;
  const low = i64x2.extract_lane(holes, 0);
  const high = i64x2.extract_lane(holes, 1);
  store<u64>(at, load<u64>(at) & ~((low << 1) & load<u64>(free)));
  store<u64>(at, load<u64>(at, 8) & ~(((high << 1) | (low >>> 63)) & load<u64>(free, 8)), 8);
  store<u64>(at, load<u64>(at, 16) & ~((high >>> 63) & load<u64>(free, 16)), 16);
}

/** Keeps a row as it is now, in the buffer that does not hold the row above. */
function keepRow(at: usize): usize {
  const to = above == older ? spare : older;
  memory.copy(to, at, stride);
  return to;
}

/** One turn over rows `from` up to, not including, `to`, counted from 0; answers how many segments changed. */
export function peelRows(from: i32, to: i32, turn: i32): i32 {
  let changed = 0;
  if (from == 0) above = shape;
  for (let row = from + 1; row <= to; row++) changed += peelRow(row, turn);
  return changed;
}

function peelRow(row: i32, turn: i32): i32 {
  const at = shape + row * stride;
  let old = at;
  let changed = 0;
  const marks = changes + row * marksBytes;
  if (turn > 2 && isQuiet(marks, turn)) {
    above = at;
    return 0;
  }
  for (let segment = 0; segment < segments; segment++) {
    if (turn > 2 && lastChangeAround(marks + 2 * (segment + 1)) < turn - 2) continue;
    const start = 16 + segment * segmentBytes;
    const end = min(start + segmentBytes, stride - 16);
    let any = false;
    for (let k = start; k < end; k += 16) {
      const left = v128.and(v128.load(peelable + row * stride + k), v128.load(at + k));
      if (!v128.any_true(left)) continue;
      const removed = v128.and(left, removable(old + k, above + k, at + stride + k, turn));
      if (!v128.any_true(removed)) continue;
      if (old == at) old = keepRow(at);
      v128.store(at + k, v128.andnot(v128.load(at + k), removed));
      any = true;
    }
    if (!any) continue;
    store<u16>(marks + 2 * (segment + 1), <u16>turn);
    changed++;
  }
  above = old;
  return changed;
}

/** Whether nothing in a row of segments, the one above and the one below has changed of late. */
function isQuiet(marks: usize, turn: i32): bool {
  const late = i16x8.splat(<i16>(turn - 3));
  for (let at = marks; at < marks + marksBytes; at += 16) {
    const newest = i16x8.max_u(i16x8.max_u(v128.load(at - marksBytes), v128.load(at)), v128.load(at + marksBytes));
    if (v128.any_true(i16x8.gt_u(newest, late))) return false;
  }
  return true;
}

function lastChangeAround(mark: usize): i32 {
  const row = marksBytes;
  return max(max(lastChangeBeside(mark - row), lastChangeBeside(mark)), lastChangeBeside(mark + row));
}

// @ts-ignore: decorator
@inline
function lastChangeBeside(mark: usize): i32 {
  return max(max(<i32>load<u16>(mark - 2), <i32>load<u16>(mark)), <i32>load<u16>(mark + 2));
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
  let any = i64x2.splat(0);
  // The row buffers are free again: `older` takes the lines of the row with those above and below it.
  for (let k = 16; k < stride - 16; k += 16) {
    const around = v128.or(linesAt(at + k), v128.or(linesAt(at - stride + k), linesAt(at + stride + k)));
    v128.store(older + k, around);
    any = v128.or(any, around);
  }
  if (!v128.any_true(any)) return;
  v128.store(older, i64x2.splat(0));
  v128.store(older + stride - 16, i64x2.splat(0));
  const used = usedWords(widthPx);
  for (let word = 0; word < used; word++) {
    const k = 16 + (word << 3);
    const own = load<u64>(older + k);
    const beside = own | (own << 1) | (own >>> 1) | (load<u64>(older + k - 8) >>> 63) | (load<u64>(older + k + 8) << 63);
    if (beside == 0) continue;
    const shapeWord = load<u64>(shape + at + k);
    const free = load<u64>(peelable + at + k);
    let body = beside & shapeWord & ~free;
    if (word == used - 1) body &= tailMask(widthPx);
    const lines = shapeWord & free;
    emit(row, word << 1, <u32>lines, <u32>body, target);
    emit(row, (word << 1) + 1, <u32>(lines >>> 32), <u32>(body >>> 32), target);
  }
}

// @ts-ignore: decorator
@inline
function linesAt(offset: i32): v128 {
  return v128.and(v128.load(shape + offset), v128.load(peelable + offset));
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
