/**
 * One bit a pixel, 1 = opaque (prints). Column c is bit (c & 31) of word (c >> 5) of its row, lowest bit first.
 * A row takes `wordsPerRow` words, always an even number, and the bits past the last column are 0.
 * The words lie in shared memory so that workers can measure a plate without copying it.
 */
export interface BitPlane {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly wordsPerRow: number;
  readonly words: Uint32Array;
}

export function wordsPerRowFor(widthPx: number): number {
  return 2 * Math.ceil(widthPx / 64);
}

/** An empty (clear) plane. */
export function createBitPlane(widthPx: number, heightPx: number): BitPlane {
  const wordsPerRow = wordsPerRowFor(widthPx);
  const words = new Uint32Array(new SharedArrayBuffer(4 * wordsPerRow * heightPx));
  return { widthPx, heightPx, wordsPerRow, words };
}

export function bitAt(plane: BitPlane, column: number, row: number): 0 | 1 {
  if (column < 0 || row < 0 || column >= plane.widthPx || row >= plane.heightPx) return 0;
  return ((plane.words[row * plane.wordsPerRow + (column >> 5)] >>> (column & 31)) & 1) as 0 | 1;
}

/** Up to 32 pixels of a row from a column on, the first as the lowest bit; 0 past the last column. */
export function bitsAt(plane: BitPlane, column: number, row: number, count: number): number {
  const index = column >> 5;
  if (index >= plane.wordsPerRow) return 0;
  const at = row * plane.wordsPerRow + index;
  const shift = column & 31;
  let bits = plane.words[at] >>> shift;
  if (shift + count > 32 && index + 1 < plane.wordsPerRow) bits |= plane.words[at + 1] << (32 - shift);
  return count === 32 ? bits : bits & ((1 << count) - 1);
}

export function setBit(plane: BitPlane, column: number, row: number): void {
  plane.words[row * plane.wordsPerRow + (column >> 5)] |= 1 << (column & 31);
}

/** How many of the 32 bits are 1. */
export function popcount(word: number): number {
  let v = word - ((word >>> 1) & 0x55555555);
  v = (v & 0x33333333) + ((v >>> 2) & 0x33333333);
  return (((v + (v >>> 4)) & 0x0f0f0f0f) * 0x01010101) >>> 24;
}
