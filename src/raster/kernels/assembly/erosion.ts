import { fromAfter, fromBefore, loadRow, tailMask, usedWords } from './rows';

/*
 * Erosion by a disc, a row at a time. Every source row is eroded along itself by each different run of the disc, the
 * narrowest first and each out of the one before, into a ring of as many rows as the disc has; a row of the answer is
 * the AND over the disc's rows.
 */
let rowBytes: i32 = 0;
let widthPx: i32 = 0;
let heightPx: i32 = 0;
let flip: u64 = 0;
let outside: u64 = 0;
let flipOut: u64 = 0;
let topRow: i32 = 0;
let discRows: i32 = 0;
/** Of 12 bytes each: columns to the left, to the right, and the number of the run this completes or -1. */
let steps: usize = 0;
let stepCount: i32 = 0;
/** Number of the run of each row of the disc. */
let runOfRow: usize = 0;
let runCount: i32 = 0;
let guardBytes: i32 = 0;
let lineBytes: i32 = 0;
let line: usize = 0;
let spare: usize = 0;
let ring: usize = 0;
/** Addresses of the disc's rows while a row is joined. */
let lines: usize = 0;
/** For every 128 columns the last source row whose broadest run is not all opaque there. */
let lastGap: usize = 0;

/** Bytes of scratch memory an erosion needs. */
export function erosionScratchBytes(width: i32, reach: i32, rows: i32, runs: i32): i32 {
  return lineBytesFor(width, reach) * (3 + rows * runs) + 4 * rows + lastGapBytes(width);
}

function lastGapBytes(width: i32): i32 {
  return ((usedWords(width) + 1) >> 1) << 2;
}

function guardBytesFor(reach: i32): i32 {
  return ((reach + 127) >> 7) << 4;
}

/** Guards that are eroded like the row on either side of it, and past these 16 bytes that never change. */
function lineBytesFor(width: i32, reach: i32): i32 {
  return (((usedWords(width) + 1) >> 1) << 4) + 2 * guardBytesFor(reach) + 32;
}

export function beginErosion(
  wordsPerRow: i32,
  width: i32,
  height: i32,
  flipIn: bool,
  outsideBit: bool,
  flipResult: bool,
  top: i32,
  rows: i32,
  stepsAt: usize,
  stepsLength: i32,
  runOfRowAt: usize,
  runs: i32,
  reach: i32,
  scratch: usize,
): void {
  rowBytes = wordsPerRow << 2;
  widthPx = width;
  heightPx = height;
  flip = flipIn ? <u64>-1 : 0;
  outside = outsideBit ? <u64>-1 : 0;
  flipOut = flipResult ? <u64>-1 : 0;
  topRow = top;
  discRows = rows;
  steps = stepsAt;
  stepCount = stepsLength;
  runOfRow = runOfRowAt;
  runCount = runs;
  guardBytes = guardBytesFor(reach);
  lineBytes = lineBytesFor(width, reach);
  line = scratch;
  spare = scratch + lineBytes;
  ring = scratch + 3 * lineBytes;
  lines = ring + lineBytes * rows * runs;
  lastGap = lines + 4 * rows;
  memory.fill(scratch, <u8>outside, lineBytes * (3 + rows * runs));
  for (let k = 0; k < lastGapBytes(width); k += 4) store<i32>(lastGap + k, top - 1);
}

/**
 * Takes source rows `from` up to, not including, `to`, the first of which stands at `source`; rows come in order, from
 * the disc's top row to its bottom row past the last row. Writes every row of the answer that is then complete to
 * `target` and answers how many these are.
 */
export function erodeRows(from: i32, to: i32, source: usize, target: usize): i32 {
  const bottomRow = topRow + discRows - 1;
  let done = 0;
  for (let row = from; row < to; row++) {
    widen(row, source + (row - from) * rowBytes);
    const complete = row - bottomRow;
    if (complete < 0 || complete >= heightPx) continue;
    join(complete, target + done * rowBytes);
    done++;
  }
  return done;
}

function ringIndex(row: i32): i32 {
  const rest = row % discRows;
  return rest < 0 ? rest + discRows : rest;
}

function widen(row: i32, source: usize): void {
  const dataAt = 16 + guardBytes;
  const dataBytes = lineBytes - 2 * dataAt;
  if (row < 0 || row >= heightPx) memory.fill(line + 16, <u8>outside, lineBytes - 32);
  else loadRow(source, line + dataAt, widthPx, dataBytes >> 3, flip, outside);
  const ringAt = ring + ringIndex(row) * runCount * lineBytes;
  let read = line;
  let turn = 0;
  for (let step = 0; step < stepCount; step++) {
    const at = steps + step * 12;
    const left = load<i32>(at);
    const right = load<i32>(at, 4);
    const run = load<i32>(at, 8);
    const write = run < 0 ? spare + turn * lineBytes : ringAt + run * lineBytes;
    turn = 1 - turn;
    andShifted(read, write, left, right);
    read = write;
  }
  noteGaps(row, read);
}

function andShifted(read: usize, write: usize, left: i32, right: i32): void {
  const end = lineBytes - 16;
  if (left > 0 && right > 0) {
    for (let k = 16; k < end; k += 16) {
      const at = read + k;
      const value = v128.load(at);
      v128.store(write + k, v128.and(value, v128.and(fromBefore(at, value, left), fromAfter(at, value, right))));
    }
  } else if (left > 0) {
    for (let k = 16; k < end; k += 16) {
      const at = read + k;
      const value = v128.load(at);
      v128.store(write + k, v128.and(value, fromBefore(at, value, left)));
    }
  } else if (right > 0) {
    for (let k = 16; k < end; k += 16) {
      const at = read + k;
      const value = v128.load(at);
      v128.store(write + k, v128.and(value, fromAfter(at, value, right)));
    }
  } else memory.copy(write + 16, read + 16, end - 16);
}

function join(row: i32, to: usize): void {
  const dataAt = 16 + guardBytes;
  const used = usedWords(widthPx);
  const flips = i64x2.splat(flipOut);
  for (let disc = 0; disc < discRows; disc++) store<usize>(lines + (disc << 2), runLine(row, disc) + dataAt);
  const middle = load<usize>(lines + ((discRows >> 1) << 2));
  const firstRow = row + topRow;
  for (let word = 0; word < used; word += 2) {
    const k = word << 3;
    let value = i64x2.splat(-1);
    // Where the broadest run has been all opaque over the disc's rows, the narrower ones have too.
    if (load<i32>(lastGap + (word << 1)) >= firstRow) {
      value = v128.load(middle + k);
      for (let disc = 0; disc < discRows; disc++) {
        if (!v128.any_true(value)) break;
        value = v128.and(value, v128.load(load<usize>(lines + (disc << 2)) + k));
      }
    }
    value = v128.xor(value, flips);
    if (word + 2 <= used) v128.store(to + k, value);
    else store<u64>(to + k, i64x2.extract_lane(value, 0));
  }
  const last = to + ((used - 1) << 3);
  store<u64>(last, load<u64>(last) & tailMask(widthPx));
}

function runLine(row: i32, disc: i32): usize {
  return ring + (ringIndex(row + topRow + disc) * runCount + load<i32>(runOfRow + (disc << 2))) * lineBytes;
}

/** Notes where the broadest run of a row is not all opaque. */
function noteGaps(row: i32, broadest: usize): void {
  const end = lineBytes - 32 - 2 * guardBytes;
  const at = broadest + 16 + guardBytes;
  for (let k = 0; k < end; k += 16) {
    if (v128.any_true(v128.not(v128.load(at + k)))) store<i32>(lastGap + (k >> 2), row);
  }
}
