import type { BitPlane } from './bitPlane.ts';

/**
 * Where two opaque pixels share no more than a corner and there is open film on either side, makes one of the clear
 * pixels between them opaque, in place. Film then no longer slips between them, whichever neighbours are counted: what
 * is needed before the film is thinned, as thinning takes pixels that share a corner for joined. A line of film one
 * pixel wide along the diagonal has no open film at its sides and stays.
 */
export function joinCorners(plane: BitPlane): void {
  const { heightPx, wordsPerRow } = plane;
  const words = new Int32Array(plane.words.buffer, plane.words.byteOffset, plane.words.length);
  const last = (plane.widthPx - 1) >> 5;
  for (let row = 0; row + 1 < heightPx; row++) {
    const base = row * wordsPerRow;
    for (let index = 0; index <= last; index++) {
      const at = base + index;
      const below = at + wordsPerRow;
      const upper = words[at];
      const lower = words[below];
      if (upper === lower) continue;
      const upperRight = (upper >>> 1) | ((index < last ? words[at + 1] : 0) << 31);
      const lowerRight = (lower >>> 1) | ((index < last ? words[below + 1] : 0) << 31);
      // Bit c speaks of the square of columns c and c + 1.
      const falling = upper & ~upperRight & ~lower & lowerRight;
      const rising = ~upper & upperRight & lower & ~lowerRight;
      if ((falling | rising) === 0) continue;
      for (let bits = falling | rising; bits !== 0; bits &= bits - 1) {
        const column = (index << 5) + 31 - Math.clz32(bits & -bits);
        fillOne(column, row, (falling & bits & -bits) !== 0);
      }
    }
  }

  /** The square's clear pixels are its upper right and lower left ones when the opaque ones fall, else the others. */
  function fillOne(column: number, row: number, falls: boolean): void {
    const upperColumn = falls ? column + 1 : column;
    const lowerColumn = falls ? column : column + 1;
    const outward = falls ? 1 : -1;
    if (isClear(upperColumn, row - 1) && isClear(upperColumn + outward, row)) fill(upperColumn, row);
    else if (isClear(lowerColumn, row + 2) && isClear(lowerColumn - outward, row + 1)) fill(lowerColumn, row + 1);
  }

  function isClear(column: number, row: number): boolean {
    if (column < 0 || row < 0 || column >= plane.widthPx || row >= heightPx) return true;
    return ((words[row * wordsPerRow + (column >> 5)] >>> (column & 31)) & 1) === 0;
  }

  function fill(column: number, row: number): void {
    words[row * wordsPerRow + (column >> 5)] |= 1 << (column & 31);
  }
}
