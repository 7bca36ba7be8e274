import type { BitPlane } from '../raster/bitPlane.ts';
import { createBitPlane } from '../raster/bitPlane.ts';
import type { PixelGrid } from '../raster/pixelGrid.ts';

/** A plate in cells of `factorX` × `factorY` pixels. */
export interface MarkCells {
  readonly factorX: number;
  readonly factorY: number;
  /** Cells with any ink. */
  readonly inked: BitPlane;
  /** Cells with any clear film; null when hardly any cell is black all over, so that nothing can stand white in it. */
  readonly clear: BitPlane | null;
  /** The cells these were made of, three by three; null for those made of pixels. */
  readonly finer: MarkCells | null;
}

/** A mark and its surroundings are first looked at on cells of about this size (100 to the inch). */
export const cellMm = 0.254;
/** Films of more than about two square metres are looked at on larger cells. */
const mostCells = 32_000_000;
/** So many runs of black cells make the field of the smallest mark that could be white in it. */
const fewestBlack = 8;

/** Cells of about a quarter millimetre, ink and clear film in one pass over the plane. */
export function cellsOf(bits: BitPlane, grid: PixelGrid): MarkCells {
  const areaMm2 = grid.widthPx * grid.pitchXMm * grid.heightPx * grid.pitchYMm;
  const sideMm = Math.max(cellMm, Math.sqrt(areaMm2 / mostCells));
  const factorX = Math.max(1, Math.round(sideMm / grid.pitchXMm));
  const factorY = Math.max(1, Math.round(sideMm / grid.pitchYMm));
  const { widthPx, heightPx, wordsPerRow } = bits;
  // Signed words stay whole numbers where unsigned ones become floating point.
  const words = new Int32Array(bits.words.buffer, bits.words.byteOffset, bits.words.length);
  const inked = createBitPlane(Math.ceil(widthPx / factorX), Math.ceil(heightPx / factorY));
  const clear = createBitPlane(inked.widthPx, inked.heightPx);
  const cellOf = new Int32Array(wordsPerRow * 32);
  for (let c = 0; c < cellOf.length; c++) cellOf[c] = Math.floor(c / factorX);
  const any = new Int32Array(wordsPerRow);
  const white = new Int32Array(wordsPerRow);
  const lastWord = widthPx >> 5;
  const beyond = (widthPx & 31) === 0 ? 0 : -1 << (widthPx & 31);
  let black = 0;
  for (let cellRow = 0; cellRow < inked.heightPx; cellRow++) {
    const from = cellRow * factorY;
    const end = Math.min(heightPx, from + factorY);
    // All rows of a word before the next: they stay in the nearest cache, and the sums in registers.
    for (let w = 0; w < wordsPerRow; w++) {
      let some = 0;
      let all = -1;
      for (let at = from * wordsPerRow + w; at < end * wordsPerRow; at += wordsPerRow) {
        const word = words[at];
        some |= word;
        all &= word;
      }
      any[w] = some;
      white[w] = ~all;
    }
    for (let w = lastWord; w < wordsPerRow; w++) white[w] = w === lastWord ? white[w] & ~beyond : 0;
    const target = cellRow * inked.wordsPerRow;
    setCells(any, cellOf, factorX, inked, target);
    setCells(white, cellOf, factorX, clear, target);
    for (let w = 0; w < inked.wordsPerRow; w++) {
      const solid = inked.words[target + w] & ~clear.words[target + w];
      if (solid !== 0) black++;
    }
  }
  return { factorX, factorY, inked, clear: black < fewestBlack ? null : clear, finer: null };
}

/** Marks the cells that have a pixel in a row of words. */
function setCells(row: Int32Array, cellOf: Int32Array, factorX: number, into: BitPlane, target: number): void {
  const words = new Int32Array(into.words.buffer, into.words.byteOffset, into.words.length);
  for (let w = 0; w < row.length; w++) {
    const word = row[w];
    if (word === 0) continue;
    if (word === -1) {
      const first = w;
      while (w + 1 < row.length && row[w + 1] === -1) w++;
      setRange(words, target, cellOf[first * 32], cellOf[w * 32 + 31]);
      continue;
    }
    for (let rest = word; rest !== 0; ) {
      const cell = cellOf[w * 32 + 31 - Math.clz32(rest & -rest)];
      words[target + (cell >> 5)] |= 1 << (cell & 31);
      // The rest of the cell's columns in this word say nothing new.
      const past = (cell + 1) * factorX - w * 32;
      rest = past >= 32 ? 0 : rest & (-1 << past);
    }
  }
}

function setRange(words: Int32Array, target: number, first: number, last: number): void {
  const [from, to] = [first >> 5, last >> 5];
  const head = -1 << (first & 31);
  const tail = -1 >>> (31 - (last & 31));
  if (from === to) words[target + from] |= head & tail;
  else {
    words[target + from] |= head;
    for (let w = from + 1; w < to; w++) words[target + w] = -1;
    words[target + to] |= tail;
  }
}

/** The same in cells three times as large, which join what stands a little apart. */
export function coarserCells(finer: MarkCells): MarkCells {
  const { factorX, factorY, inked, clear } = finer;
  return {
    factorX: 3 * factorX,
    factorY: 3 * factorY,
    inked: thirds(inked),
    clear: clear === null ? null : thirds(clear),
    finer,
  };
}

function thirds(plane: BitPlane): BitPlane {
  const small = createBitPlane(Math.ceil(plane.widthPx / 3), Math.ceil(plane.heightPx / 3));
  const row = new Int32Array(plane.wordsPerRow);
  const cellOf = new Int32Array(plane.wordsPerRow * 32);
  for (let c = 0; c < cellOf.length; c++) cellOf[c] = Math.floor(c / 3);
  for (let cellRow = 0; cellRow < small.heightPx; cellRow++) {
    row.fill(0);
    for (let r = 3 * cellRow; r < Math.min(plane.heightPx, 3 * cellRow + 3); r++) {
      for (let w = 0; w < row.length; w++) row[w] |= plane.words[r * plane.wordsPerRow + w];
    }
    setCells(row, cellOf, 3, small, cellRow * small.wordsPerRow);
  }
  return small;
}
