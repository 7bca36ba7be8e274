import type { BitPlane } from './bitPlane.ts';

/**
 * Reads a part of a plane as bytes, one a pixel, row by row: 1 = opaque. Pixels beyond the plane are 0. `into`, when
 * given, is filled and answered instead of a new array.
 */
export function readWindow(
  plane: BitPlane,
  left: number,
  top: number,
  widthPx: number,
  heightPx: number,
  into = new Uint8Array(widthPx * heightPx),
): Uint8Array {
  into.fill(0, 0, widthPx * heightPx);
  const from = Math.max(0, left);
  const to = Math.min(plane.widthPx, left + widthPx);
  for (let row = Math.max(0, top); row < Math.min(plane.heightPx, top + heightPx); row++) {
    const source = row * plane.wordsPerRow;
    const target = (row - top) * widthPx - left;
    let column = from;
    while (column < to) {
      const end = Math.min(to, (column | 31) + 1);
      const word = plane.words[source + (column >> 5)];
      if (word === 0) column = end;
      for (; column < end; column++) into[target + column] = (word >>> (column & 31)) & 1;
    }
  }
  return into;
}
