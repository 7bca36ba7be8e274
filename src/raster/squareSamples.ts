import { type BitPlane, bitsAt, popcount } from './bitPlane.ts';
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

/** Which rows of a square are read: so many, each so far below the one before. */
export function rowsOfSquare(factor: number): { rowStep: number; rows: number } {
  const rowStep = Math.max(1, Math.floor(factor / mostRows));
  return { rowStep, rows: Math.ceil(factor / rowStep) };
}

/**
 * Mean tones, 0 … 1, of squares of `factor` by `factor` pixels, `side` by `side` of them from a pixel on, column by
 * column. Pixels beyond the plane are clear.
 */
export function readSquares(
  plane: SampledPlane,
  left: number,
  top: number,
  factor: number,
  side: number,
  into: Float32Array,
): void {
  into.fill(0, 0, side * side);
  if (plane.tone === null) addBits(plane.bits, left, top, factor, side, into);
  else addTones(plane.tone, left, top, factor, side, into);
}

function addBits(bits: BitPlane, left: number, top: number, factor: number, side: number, into: Float32Array): void {
  const { rowStep, rows } = rowsOfSquare(factor);
  const share = 1 / (factor * rows);
  const from = Math.max(0, left);
  const to = Math.min(bits.widthPx, left + side * factor);
  for (let row = 0; row < side; row++) {
    const bottom = Math.min(bits.heightPx, top + (row + 1) * factor);
    for (let r = top + row * factor; r < bottom; r += rowStep) {
      if (r < 0) continue;
      for (let at = from; at < to; ) {
        const square = Math.floor((at - left) / factor);
        const next = Math.min(to, left + (square + 1) * factor, (at | 31) + 1);
        into[square * side + row] += popcount(bitsAt(bits, at, r, next - at));
        at = next;
      }
    }
    for (let at = row; at < side * side; at += side) into[at] *= share;
  }
}

function addTones(tone: TonePlane, left: number, top: number, factor: number, side: number, into: Float32Array): void {
  const widthPx = side * factor;
  if (buffer.length < widthPx) buffer = new Uint8Array(widthPx);
  const { rowStep, rows } = rowsOfSquare(factor);
  const share = 1 / (255 * factor * rows);
  for (let row = 0; row < side; row++) {
    for (let r = 0; r < factor; r += rowStep) {
      readToneWindow(tone, left, top + row * factor + r, widthPx, 1, buffer);
      for (let column = 0; column < side; column++) {
        let sum = 0;
        for (let at = column * factor; at < (column + 1) * factor; at++) sum += buffer[at];
        into[column * side + row] += share * sum;
      }
    }
  }
}
