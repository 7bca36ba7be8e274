/*
 * Rows of T.4 and T.6 data, as `FaxDecoder` reads them: a row is a list of the columns where its colour changes, and the
 * packed words are filled from it.
 */
const runBits: i32 = 13;
const modeBits: i32 = 7;
const passMode: i32 = 4;
const horizontalMode: i32 = 5;

const plain: i32 = 0;
const group4: i32 = 2;

/** What went wrong, as a negative number of rows. */
const endsEarly: i32 = -1;
const tooLong: i32 = -2;
const nonsense: i32 = -3;

let bytes: usize = 0;
let bitCount: i64 = 0;
let widthPx: i32 = 0;
let kind: i32 = 0;
let twoDimensional: bool = false;
let position: i64 = 0;
let reference: usize = 0;
let current: usize = 0;
let whiteRuns: usize = 0;
let blackRuns: usize = 0;
let modes: usize = 0;

/** Bytes for the two lists of changes. */
export function faxScratchBytes(width: i32): i32 {
  return 8 * (width + 8);
}

/**
 * @param data coded rows, the highest bit first, and 8 bytes after them that are 0
 * @param tables 8192 numbers for the white runs, 8192 for the black ones, 128 for the modes
 */
export function beginFax(
  data: usize,
  length: i32,
  width: i32,
  coding: i32,
  both: bool,
  tables: usize,
  scratch: usize,
): void {
  bytes = data;
  bitCount = (<i64>length) * 8;
  widthPx = width;
  kind = coding;
  twoDimensional = both;
  position = 0;
  whiteRuns = tables;
  blackRuns = tables + (4 << runBits);
  modes = blackRuns + (4 << runBits);
  reference = scratch;
  current = scratch + 4 * (width + 8);
  for (let k = 0; k < width + 8; k++) store<i32>(reference + (k << 2), width);
}

/** Whether nothing much is left to read: what cannot be read then is missing. */
export function faxIsAtEnd(): bool {
  return position + 24 >= bitCount;
}

/** Decodes the next rows into words that are 0; answers how many there are, or what went wrong. */
export function faxRows(rows: i32, target: usize, rowBytes: i32): i32 {
  for (let row = 0; row < rows; row++) {
    const count = decodeRow();
    if (count < 0) return count;
    fillRuns(count, target + row * rowBytes);
    const used = current;
    current = reference;
    reference = used;
  }
  return rows;
}

function decodeRow(): i32 {
  if (position >= bitCount) return endsEarly;
  if (kind == group4) return decodeTwoDimensional();
  if (kind == plain) {
    const count = decodeOneDimensional();
    position = (position + 7) & ~7;
    return count;
  }
  const lineEnded = skipLineEnd();
  if (!twoDimensional || !lineEnded) return decodeOneDimensional();
  const tag = bitAt(position);
  position++;
  return tag == 1 ? decodeOneDimensional() : decodeTwoDimensional();
}

// @ts-ignore: decorator
@inline
function bitAt(at: i64): i32 {
  return (<i32>load<u8>(bytes + <usize>(at >> 3)) >> (7 - (<i32>at & 7))) & 1;
}

/** Steps over fill bits and an end-of-line code (eleven 0 and a 1) if one is next. */
function skipLineEnd(): bool {
  let at = position;
  while (at < bitCount && bitAt(at) == 0) at++;
  if (at - position < 11) return false;
  position = at + 1;
  return true;
}

/** 24 bits from here on, the first as the highest. */
// @ts-ignore: decorator
@inline
function seenAt(at: i64): u32 {
  return (bswap(load<u32>(bytes + <usize>(at >> 3))) << (<u32>at & 7)) >>> 8;
}

function decodeOneDimensional(): i32 {
  let count = 0;
  let column = 0;
  while (column < widthPx) {
    const run = readRun((count & 1) == 1);
    if (run < 0) return run;
    column += run;
    if (column > widthPx || count > widthPx) return tooLong;
    store<i32>(current + (count++ << 2), column);
  }
  return close(count);
}

function decodeTwoDimensional(): i32 {
  let count = 0;
  let a0 = -1;
  let index = 0;
  while (a0 < widthPx) {
    const entry = load<i32>(modes + ((seenAt(position) >>> (24 - modeBits)) << 2));
    if (entry == 0) return nonsense;
    position += entry & 7;
    const mode = (entry >> 3) - 3;
    if (mode < passMode) {
      const a1 = load<i32>(reference + (index << 2)) + mode;
      if (a1 < a0 || a1 < 0 || a1 > widthPx || count > widthPx) return nonsense;
      store<i32>(current + (count++ << 2), a1);
      a0 = a1;
      if (a0 >= widthPx) break;
      index += index > 0 ? -1 : 1;
    } else if (mode == passMode) {
      a0 = load<i32>(reference + (index << 2), 4);
      index += 2;
    } else if (mode == horizontalMode) {
      const black = (count & 1) == 1;
      const first = readRun(black);
      if (first < 0) return first;
      const second = readRun(!black);
      if (second < 0) return second;
      const a1 = max(a0, 0) + first;
      const a2 = a1 + second;
      if (a2 > widthPx || count > widthPx) return nonsense;
      store<i32>(current + (count++ << 2), a1);
      store<i32>(current + (count++ << 2), a2);
      a0 = a2;
    }
    for (;;) {
      const change = load<i32>(reference + (index << 2));
      if (change > a0 || change >= widthPx) break;
      index += 2;
    }
  }
  return close(count);
}

function readRun(black: bool): i32 {
  const table = black ? blackRuns : whiteRuns;
  let at = position;
  let total = 0;
  let run = 64;
  while (run >= 64) {
    const entry = load<i32>(table + ((seenAt(at) >>> (24 - runBits)) << 2));
    if (entry == 0 || at > bitCount) return nonsense;
    at += entry & 31;
    run = entry >> 5;
    // A run no row can have is told from the others by being too long; more of it must not overflow.
    total = min(total + run, widthPx + 1);
  }
  position = at;
  return total;
}

/** Ends the list of changes so that looking past its end finds the right edge. */
function close(count: i32): i32 {
  for (let k = 0; k < 4; k++) store<i32>(current + ((count + k) << 2), widthPx);
  return count;
}

function fillRuns(count: i32, target: usize): void {
  for (let k = 0; k < count; k += 2) {
    const from = load<i32>(current + (k << 2));
    const to = load<i32>(current + (k << 2), 4);
    if (to <= from) continue;
    const first = target + ((from >> 6) << 3);
    const last = target + (((to - 1) >> 6) << 3);
    const head = (<u64>-1) << (from & 63);
    const tail = (<u64>-1) >>> (63 - ((to - 1) & 63));
    if (first == last) store<u64>(first, load<u64>(first) | (head & tail));
    else {
      store<u64>(first, load<u64>(first) | head);
      for (let at = first + 8; at < last; at += 8) store<u64>(at, -1);
      store<u64>(last, load<u64>(last) | tail);
    }
  }
}
