import { tailMask, usedWords } from './rows';

/*
 * Connected parts by runs, row by row: each run joins the parts of the runs it touches in the row above. A part is
 * handed over when its last row has passed; its place in the table is then used again, so the table never has more
 * parts than two rows have runs.
 */
let rowBytes: i32 = 0;
let widthPx: i32 = 0;
let heightPx: i32 = 0;
let flip: u64 = 0;
let reach: i32 = 0;
let mostColumns: f64 = 0;
let mostRows: f64 = 0;
let mostAreaPx: f64 = 0;
/** Whether the sums for centre and axes are asked for; else they stay 0. */
let moments: bool = true;
let above: usize = 0;
let here: usize = 0;
let aboveLabels: usize = 0;
let hereLabels: usize = 0;
let aboveCount: i32 = 0;
let parent: usize = 0;
let lastRow: usize = 0;
let parts: usize = 0;
let partCount: i32 = 0;
let free: usize = 0;
let freeCount: i32 = 0;
let merged: usize = 0;
let mergedCount: i32 = 0;
let found: usize = 0;
let foundRoom: i32 = 0;
let foundCount: i32 = 0;

/** Eleven numbers a part, in this order. */
const areaAt: usize = 0;
const leftAt: usize = 8;
const topAt: usize = 16;
const rightAt: usize = 24;
const bottomAt: usize = 32;
const firstAt: usize = 40;
const sumColumnAt: usize = 48;
const sumRowAt: usize = 56;
const sumColumnSquaredAt: usize = 64;
const sumRowSquaredAt: usize = 72;
const sumProductAt: usize = 80;
const partBytes: i32 = 88;

function mostParts(width: i32): i32 {
  return width + 8;
}

export function componentsScratchBytes(width: i32): i32 {
  return 8 * (width + 4) + 8 * ((width >> 1) + 4) + mostParts(width) * (16 + partBytes) + 64;
}

/** Parts with a larger box or area than given are not handed over. @param foundRoomParts at least `width` + 8 */
export function beginComponents(
  wordsPerRow: i32,
  width: i32,
  height: i32,
  flipBit: bool,
  cornersJoin: bool,
  columns: f64,
  rows: f64,
  area: f64,
  withMoments: bool,
  scratch: usize,
  foundAt: usize,
  foundRoomParts: i32,
): void {
  rowBytes = wordsPerRow << 2;
  widthPx = width;
  heightPx = height;
  flip = flipBit ? <u64>-1 : 0;
  reach = cornersJoin ? 1 : 0;
  mostColumns = columns;
  mostRows = rows;
  mostAreaPx = area;
  moments = withMoments;
  const most = mostParts(width);
  parts = scratch;
  above = parts + most * partBytes;
  here = above + 4 * (width + 4);
  aboveLabels = here + 4 * (width + 4);
  hereLabels = aboveLabels + 4 * ((width >> 1) + 4);
  parent = hereLabels + 4 * ((width >> 1) + 4);
  lastRow = parent + 4 * most;
  free = lastRow + 4 * most;
  merged = free + 4 * most;
  aboveCount = 0;
  partCount = 0;
  freeCount = 0;
  mergedCount = 0;
  found = foundAt;
  foundRoom = foundRoomParts;
}

/**
 * Takes rows `from` up to, not including, `to`, the first of which stands at `source`, or as many as there is surely
 * room for what is found; answers the next row. The row past the last closes all that is open.
 */
export function joinRuns(from: i32, to: i32, source: usize): i32 {
  foundCount = 0;
  for (let row = from; row < to; row++) {
    if (foundCount + aboveCount > foundRoom) return row;
    passRow(row, source + (row - from) * rowBytes);
  }
  return to;
}

export function foundParts(): i32 {
  return foundCount;
}

function passRow(row: i32, source: usize): void {
  const count = row < heightPx ? readRuns(source) : 0;
  let over = 0;
  for (let run = 0; run < count; run++) {
    const from = load<i32>(here + (run << 3));
    const to = load<i32>(here + (run << 3), 4);
    while (over < aboveCount && load<i32>(above + (over << 3), 4) + reach <= from) over++;
    let label = -1;
    for (let k = over; k < aboveCount && load<i32>(above + (k << 3)) < to + reach; k++) {
      const other = rootOf(load<i32>(aboveLabels + (k << 2)));
      if (label < 0) label = other;
      else if (label != other) {
        mergeInto(parts + label * partBytes, parts + other * partBytes);
        store<i32>(parent + (other << 2), label);
        store<i32>(merged + (mergedCount++ << 2), other);
      }
    }
    if (label < 0) label = fresh(from, row);
    addRun(parts + label * partBytes, from, to, row);
    store<i32>(lastRow + (label << 2), row);
    store<i32>(hereLabels + (run << 2), label);
  }
  if (mergedCount > 0) {
    for (let at = hereLabels, end = at + (count << 2); at < end; at += 4) store<i32>(at, rootOf(load<i32>(at)));
  }
  for (let k = 0; k < aboveCount; k++) {
    const root = rootOf(load<i32>(aboveLabels + (k << 2)));
    const last = load<i32>(lastRow + (root << 2));
    if (last == row || last < 0) continue;
    handOver(parts + root * partBytes);
    store<i32>(lastRow + (root << 2), -1);
    store<i32>(free + (freeCount++ << 2), root);
  }
  while (mergedCount > 0) store<i32>(free + (freeCount++ << 2), load<i32>(merged + (--mergedCount << 2)));
  const runs = above;
  above = here;
  here = runs;
  const labels = aboveLabels;
  aboveLabels = hereLabels;
  hereLabels = labels;
  aboveCount = count;
}

/** Writes the runs of a row, first column and one past the last of each. */
function readRuns(base: usize): i32 {
  const used = usedWords(widthPx);
  let to = here;
  let before: u64 = 0;
  for (let word = 0; word < used; word++) {
    let value = load<u64>(base + (word << 3)) ^ flip;
    if (word == used - 1) value &= tailMask(widthPx);
    let turns = value ^ ((value << 1) | before);
    before = value >>> 63;
    const start = word << 6;
    while (turns != 0) {
      store<i32>(to, start + <i32>ctz(turns));
      to += 4;
      turns &= turns - 1;
    }
  }
  if (((to - here) & 4) != 0) {
    store<i32>(to, widthPx);
    to += 4;
  }
  return <i32>((to - here) >> 3);
}

function rootOf(label: i32): i32 {
  let root = label;
  for (let up = load<i32>(parent + (root << 2)); up != root; up = load<i32>(parent + (root << 2))) root = up;
  return root;
}

function fresh(column: i32, row: i32): i32 {
  const label = freeCount > 0 ? load<i32>(free + (--freeCount << 2)) : partCount++;
  store<i32>(parent + (label << 2), label);
  const part = parts + label * partBytes;
  const zero = f64x2.splat(0);
  const x = f64x2.splat(column);
  const y = f64x2.splat(row);
  // Area and left, top and right, bottom and first column, and the sums.
  v128.store(part, f64x2.replace_lane(x, 0, 0));
  v128.store(part, f64x2.replace_lane(y, 1, column), 16);
  v128.store(part, f64x2.replace_lane(y, 1, column), 32);
  v128.store(part, zero, 48);
  v128.store(part, zero, 64);
  store<f64>(part, 0, 80);
  return label;
}

function handOver(part: usize): void {
  if (
    load<f64>(part, areaAt) > mostAreaPx ||
    load<f64>(part, rightAt) - load<f64>(part, leftAt) > mostColumns ||
    load<f64>(part, bottomAt) - load<f64>(part, topAt) > mostRows
  )
    return;
  const to = found + foundCount * partBytes;
  for (let k = 0; k < 80; k += 16) v128.store(to + k, v128.load(part + k));
  store<f64>(to, load<f64>(part, 80), 80);
  foundCount++;
}

// @ts-ignore: decorator
@inline
function add(part: usize, value: f64, at: usize): void {
  store<f64>(part + at, load<f64>(part + at) + value);
}

function addRun(part: usize, from: i32, to: i32, row: i32): void {
  const n: f64 = to - from;
  add(part, n, areaAt);
  store<f64>(part, min<f64>(load<f64>(part, leftAt), from), leftAt);
  store<f64>(part, max<f64>(load<f64>(part, rightAt), to), rightAt);
  store<f64>(part, row + 1, bottomAt);
  if (!moments) return;
  const first: f64 = <f64>from - load<f64>(part, firstAt);
  const last = first + n - 1;
  const sum = (n * (first + last)) / 2;
  const down: f64 = <f64>row - load<f64>(part, topAt);
  add(part, sum, sumColumnAt);
  add(part, squaresTo(last) - squaresTo(first - 1), sumColumnSquaredAt);
  add(part, n * down, sumRowAt);
  add(part, n * down * down, sumRowSquaredAt);
  add(part, sum * down, sumProductAt);
}

/** 0² + 1² + … + n², carried on below 0 so that differences give the sum over any stretch. */
// @ts-ignore: decorator
@inline
function squaresTo(n: f64): f64 {
  return (n * (n + 1) * (2 * n + 1)) / 6;
}

function mergeInto(part: usize, other: usize): void {
  const first = load<f64>(part, firstAt);
  const top = load<f64>(part, topAt);
  const otherFirst = load<f64>(other, firstAt);
  const otherTop = load<f64>(other, topAt);
  const right = otherFirst - first;
  const down = otherTop - top;
  const n = load<f64>(other, areaAt);
  const sumColumn = load<f64>(other, sumColumnAt);
  const sumRow = load<f64>(other, sumRowAt);
  add(part, n, areaAt);
  if (moments) {
    add(part, sumColumn + n * right, sumColumnAt);
    add(part, sumRow + n * down, sumRowAt);
    add(part, load<f64>(other, sumColumnSquaredAt) + 2 * right * sumColumn + n * right * right, sumColumnSquaredAt);
    add(part, load<f64>(other, sumRowSquaredAt) + 2 * down * sumRow + n * down * down, sumRowSquaredAt);
    add(part, load<f64>(other, sumProductAt) + right * sumRow + down * sumColumn + n * right * down, sumProductAt);
  }
  store<f64>(part, min(load<f64>(part, leftAt), load<f64>(other, leftAt)), leftAt);
  store<f64>(part, max(load<f64>(part, rightAt), load<f64>(other, rightAt)), rightAt);
  store<f64>(part, max(load<f64>(part, bottomAt), load<f64>(other, bottomAt)), bottomAt);
  if (otherTop < top || (otherTop == top && otherFirst < first)) moveOrigin(part, otherFirst, otherTop);
}

function moveOrigin(part: usize, column: f64, row: f64): void {
  const right = load<f64>(part, firstAt) - column;
  const down = load<f64>(part, topAt) - row;
  const n = load<f64>(part, areaAt);
  const sumColumn = load<f64>(part, sumColumnAt);
  const sumRow = load<f64>(part, sumRowAt);
  if (moments) {
    add(part, 2 * right * sumColumn + n * right * right, sumColumnSquaredAt);
    add(part, 2 * down * sumRow + n * down * down, sumRowSquaredAt);
    add(part, right * sumRow + down * sumColumn + n * right * down, sumProductAt);
    add(part, n * right, sumColumnAt);
    add(part, n * down, sumRowAt);
  }
  store<f64>(part, column, firstAt);
  store<f64>(part, row, topAt);
}
