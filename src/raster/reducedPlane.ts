import type { BitPlane } from './bitPlane.ts';
import { createBitPlane } from './bitPlane.ts';

/** A smaller plane: a cell of `factorX` × `factorY` pixels is opaque when any of its pixels is. */
export function reducedPlane(plane: BitPlane, factorX: number, factorY: number): BitPlane {
  const { widthPx, heightPx, wordsPerRow, words } = plane;
  const small = createBitPlane(Math.ceil(widthPx / factorX), Math.ceil(heightPx / factorY));
  const cellOf = new Int32Array(wordsPerRow * 32);
  for (let c = 0; c < cellOf.length; c++) cellOf[c] = Math.floor(c / factorX);
  const joined = new Uint32Array(wordsPerRow);
  for (let cellRow = 0; cellRow < small.heightPx; cellRow++) {
    joined.fill(0);
    const end = Math.min(heightPx, (cellRow + 1) * factorY);
    for (let row = cellRow * factorY; row < end; row++) {
      const start = row * wordsPerRow;
      for (let w = 0; w < wordsPerRow; w++) joined[w] |= words[start + w];
    }
    const target = cellRow * small.wordsPerRow;
    for (let w = 0; w < wordsPerRow; w++) {
      let rest = joined[w];
      while (rest !== 0) {
        const cell = cellOf[w * 32 + 31 - Math.clz32(rest & -rest)];
        small.words[target + (cell >> 5)] |= 1 << (cell & 31);
        // The rest of the cell's columns in this word say nothing new.
        const past = (cell + 1) * factorX - w * 32;
        rest = past >= 32 ? 0 : rest & (-1 << past);
      }
    }
  }
  return small;
}
