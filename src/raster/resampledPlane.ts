import type { BitPlane } from './bitPlane.ts';
import { createBitPlane } from './bitPlane.ts';
import type { PixelGrid } from './pixelGrid.ts';

/** A plane brought over to another grid of the same film space: each pixel takes the pixel its centre lies in. */
export function resampledPlane(plane: BitPlane, from: PixelGrid, to: PixelGrid): BitPlane {
  const target = createBitPlane(to.widthPx, to.heightPx);
  const columns = nearestColumns(target, plane.widthPx, to.pitchXMm / from.pitchXMm);
  let previousRow = -1;
  for (let row = 0; row < to.heightPx; row++) {
    const sourceRow = Math.floor(((row + 0.5) * to.pitchYMm) / from.pitchYMm);
    if (sourceRow >= plane.heightPx) break;
    const start = row * target.wordsPerRow;
    if (sourceRow === previousRow) target.words.copyWithin(start, start - target.wordsPerRow, start);
    else resampleRow(plane.words, sourceRow * plane.wordsPerRow, target.words, start, target.wordsPerRow, columns);
    previousRow = sourceRow;
  }
  return target;
}

/** The source column of each target column, -1 past either plane's last. */
function nearestColumns(target: BitPlane, sourceWidthPx: number, scale: number): Int32Array {
  const columns = new Int32Array(target.wordsPerRow * 32).fill(-1);
  for (let c = 0; c < target.widthPx; c++) {
    const column = Math.floor((c + 0.5) * scale);
    if (column < sourceWidthPx) columns[c] = column;
  }
  return columns;
}

function resampleRow(
  source: Uint32Array,
  sourceStart: number,
  target: Uint32Array,
  targetStart: number,
  wordCount: number,
  columns: Int32Array,
): void {
  for (let w = 0; w < wordCount; w++) {
    const first = columns[w * 32];
    const last = columns[w * 32 + 31];
    if (first < 0) return;
    if (last >= 0) {
      const value = source[sourceStart + (first >> 5)];
      let uniform = value === 0 || value === 0xffffffff;
      for (let s = (first >> 5) + 1; uniform && s <= last >> 5; s++) uniform = source[sourceStart + s] === value;
      if (uniform) {
        target[targetStart + w] = value;
        continue;
      }
    }
    let word = 0;
    for (let bit = 0; bit < 32; bit++) {
      const column = columns[w * 32 + bit];
      if (column >= 0) word |= ((source[sourceStart + (column >> 5)] >>> (column & 31)) & 1) << bit;
    }
    target[targetStart + w] = word;
  }
}
