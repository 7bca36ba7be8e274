import type { BitPlane } from './bitPlane.ts';

/**
 * Writes the runs of opaque pixels of a row (of clear ones with `inverted`) into `into` as pairs of columns, first and
 * one past the last, from left to right, and answers how many runs there are. `into` needs room for widthPx + 1 numbers.
 */
export function readRuns(plane: BitPlane, row: number, inverted: boolean, into: Int32Array): number {
  const { widthPx, wordsPerRow, words } = plane;
  const base = row * wordsPerRow;
  const flip = inverted ? -1 : 0;
  const lastWord = (widthPx - 1) >> 5;
  let count = 0;
  let open = false;
  for (let index = 0; index <= lastWord; index++) {
    const word = (words[base + index] ^ flip) | 0;
    if (word === (open ? -1 : 0)) continue;
    const start = index << 5;
    // Walks from change to change: with `open` the next 0 is sought, else the next 1.
    let at = 0;
    while (at < 32) {
      const rest = (open ? ~word : word) >>> at;
      if (rest === 0) break;
      at += 31 - Math.clz32(rest & -rest);
      if (start + at >= widthPx) break;
      into[count++] = start + at;
      open = !open;
    }
  }
  if (open) into[count++] = widthPx;
  return count >> 1;
}
