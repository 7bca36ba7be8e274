import { popcount } from '../raster/bitPlane.ts';
import { type GriddedPlane, isSameGrid } from './overlapBoundary.ts';

/** Area where both planes have ink, mm², counted on the first plane's pixels. */
export function sharedAreaMm2(a: GriddedPlane, b: GriddedPlane): number {
  const count = isSameGrid(a.grid, b.grid) ? sharedPixels(a, b) : sharedPixelsAcrossGrids(a, b);
  return count * a.grid.pitchXMm * a.grid.pitchYMm;
}

function sharedPixels(a: GriddedPlane, b: GriddedPlane): number {
  const aWords = a.bits.words;
  const bWords = b.bits.words;
  let count = 0;
  for (let i = 0; i < aWords.length; i++) {
    const both = aWords[i] & bWords[i];
    if (both !== 0) count += both === -1 ? 32 : popcount(both);
  }
  return count;
}

function sharedPixelsAcrossGrids(a: GriddedPlane, b: GriddedPlane): number {
  const { widthPx, heightPx, wordsPerRow, words } = a.bits;
  const columns = new Int32Array(wordsPerRow * 32).fill(-1);
  for (let c = 0; c < widthPx; c++) {
    const column = Math.floor(((c + 0.5) * a.grid.pitchXMm) / b.grid.pitchXMm);
    columns[c] = column < b.bits.widthPx ? column : -1;
  }
  let count = 0;
  for (let row = 0; row < heightPx; row++) {
    const bRow = Math.floor(((row + 0.5) * a.grid.pitchYMm) / b.grid.pitchYMm);
    if (bRow >= b.bits.heightPx) break;
    const bStart = bRow * b.bits.wordsPerRow;
    for (let w = 0; w < wordsPerRow; w++) {
      const word = words[row * wordsPerRow + w];
      if (word !== 0) count += sharedInWord(word, columns, w * 32, b.bits.words, bStart);
    }
  }
  return count;
}

function sharedInWord(word: number, columns: Int32Array, first: number, bWords: Uint32Array, bStart: number): number {
  const from = columns[first];
  const to = columns[first + 31];
  if (from >= 0 && to >= 0) {
    const value = bWords[bStart + (from >> 5)];
    let uniform = value === 0 || value === 0xffffffff;
    for (let w = (from >> 5) + 1; uniform && w <= to >> 5; w++) uniform = bWords[bStart + w] === value;
    if (uniform) return value === 0 ? 0 : popcount(word);
  }
  let count = 0;
  for (let bit = 0; bit < 32; bit++) {
    const column = columns[first + bit];
    if (column >= 0 && ((word >>> bit) & 1) === 1) count += (bWords[bStart + (column >> 5)] >>> (column & 31)) & 1;
  }
  return count;
}
