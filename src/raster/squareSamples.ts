import { type BitPlane, popcount } from './bitPlane.ts';
import type { TonePlane } from './tonePlane.ts';
import { readToneWindow } from './toneWindow.ts';

/** What a sampled plane is read from: its tones where it has any, else its bits. */
export interface SampledPlane {
  readonly bits: BitPlane;
  readonly tone: TonePlane | null;
}

let buffer = new Uint8Array(0);
/** Of squares as large as that, only so many rows are read. */
const mostRows = 8;

/**
 * Mean tones, 0 … 1, of squares of `factor` by `factor` pixels, `columns` by `rows` of them from a pixel on, row by row.
 * Pixels beyond the plane are clear.
 */
export function readSquares(
  plane: SampledPlane,
  left: number,
  top: number,
  factor: number,
  columns: number,
  rows: number,
  into: Float64Array,
): void {
  into.fill(0, 0, columns * rows);
  if (plane.tone === null && factor === 1) copyBits(plane.bits, left, top, columns, rows, into);
  else if (plane.tone === null) addBits(plane.bits, left, top, factor, columns, rows, into);
  else addTones(plane.tone, left, top, factor, columns, rows, into);
}

/** Squares of one pixel. */
function copyBits(
  { words, wordsPerRow, widthPx, heightPx }: BitPlane,
  left: number,
  top: number,
  columns: number,
  rows: number,
  into: Float64Array,
): void {
  const from = Math.max(0, left);
  const to = Math.min(widthPx, left + columns);
  for (let row = Math.max(0, -top); row < Math.min(rows, heightPx - top); row++) {
    const first = row * columns - left;
    for (let begin = from; begin < to; begin = (begin | 31) + 1) {
      const end = Math.min(to, (begin | 31) + 1);
      let rest = words[(top + row) * wordsPerRow + (begin >> 5)] >>> (begin & 31);
      for (let at = begin; rest !== 0 && at < end; at++, rest >>>= 1) into[first + at] = rest & 1;
    }
  }
}

function addBits(
  bits: BitPlane,
  left: number,
  top: number,
  factor: number,
  columns: number,
  rows: number,
  into: Float64Array,
): void {
  const rowStep = Math.max(1, Math.floor(factor / mostRows));
  const share = 1 / (factor * Math.ceil(factor / rowStep));
  const from = Math.max(0, left);
  const to = Math.min(bits.widthPx, left + columns * factor);
  for (let row = 0; row < rows; row++) {
    const bottom = Math.min(bits.heightPx, top + (row + 1) * factor);
    for (let r = top + row * factor; r < bottom; r += rowStep) {
      if (r >= 0) addRow(bits, r, from, to, left, factor, row * columns, into);
    }
    for (let at = row * columns; at < (row + 1) * columns; at++) into[at] *= share;
  }
}

/** Adds the opaque pixels of a row, from … to, to the squares they lie in, the first of which begins at `left`. */
function addRow(
  { words, wordsPerRow }: BitPlane,
  row: number,
  from: number,
  to: number,
  left: number,
  factor: number,
  first: number,
  into: Float64Array,
): void {
  for (let begin = from; begin < to; begin = (begin | 31) + 1) {
    const word = words[row * wordsPerRow + (begin >> 5)];
    if (word === 0) continue;
    const end = Math.min(to, (begin | 31) + 1);
    let square = Math.floor((begin - left) / factor);
    for (let at = begin; at < end; square++) {
      const next = Math.min(end, left + (square + 1) * factor);
      into[first + square] += popcount((word >>> (at & 31)) & (0xffffffff >>> (32 - next + at)));
      at = next;
    }
  }
}

function addTones(
  tone: TonePlane,
  left: number,
  top: number,
  factor: number,
  columns: number,
  rows: number,
  into: Float64Array,
): void {
  const widthPx = columns * factor;
  if (buffer.length < widthPx) buffer = new Uint8Array(widthPx);
  const rowStep = Math.max(1, Math.floor(factor / mostRows));
  const rowsRead = Math.ceil(factor / rowStep);
  const share = 1 / (255 * factor * rowsRead);
  for (let row = 0; row < rows; row++) {
    for (let r = 0; r < factor; r += rowStep) {
      readToneWindow(tone, left, top + row * factor + r, widthPx, 1, buffer);
      for (let column = 0; column < columns; column++) {
        let sum = 0;
        for (let at = column * factor; at < (column + 1) * factor; at++) sum += buffer[at];
        into[row * columns + column] += share * sum;
      }
    }
  }
}
