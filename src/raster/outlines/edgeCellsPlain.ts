import { type BitPlane, createBitPlane } from '../bitPlane.ts';
import { cellPx, emptyCells } from '../cellGrid.ts';
import { clearTails } from '../morphology.ts';

/** `findEdgeCells` word by word. */
export function edgeCellsPlain(plane: BitPlane): BitPlane {
  const { heightPx, wordsPerRow, words } = plane;
  const cells = emptyCells(plane);
  const edges = new Int32Array(wordsPerRow);
  for (let cellRow = 0; cellRow < cells.heightPx; cellRow++) {
    edges.fill(0);
    const end = Math.min(heightPx, (cellRow + 1) * cellPx);
    for (let row = cellRow * cellPx; row < end; row++) addEdges(words, wordsPerRow, heightPx, row, edges);
    gatherCells(edges, cells.words, cellRow * cells.wordsPerRow);
  }
  clearTails(cells);
  return cells;
}

/** Adds a row's pixels that differ from one of their four neighbours. */
function addEdges(words: Uint32Array, wordsPerRow: number, heightPx: number, row: number, edges: Int32Array): void {
  const start = row * wordsPerRow;
  const hasAbove = row > 0;
  const hasBelow = row + 1 < heightPx;
  let before = 0;
  let word = words[start];
  for (let w = 0; w < wordsPerRow; w++) {
    const next = w + 1 < wordsPerRow ? words[start + w + 1] : 0;
    const above = hasAbove ? words[start + w - wordsPerRow] : 0;
    const below = hasBelow ? words[start + w + wordsPerRow] : 0;
    const upright = (word ^ ((word << 1) | (before >>> 31))) | (word ^ ((word >>> 1) | (next << 31)));
    edges[w] |= upright | (word ^ above) | (word ^ below);
    before = word;
    word = next;
  }
}

/** One bit for every eight columns that hold a marked pixel. */
function gatherCells(edges: Int32Array, cells: Uint32Array, start: number): void {
  for (let w = 0; w < edges.length; w++) {
    let folded = edges[w];
    folded |= folded >>> 4;
    folded |= folded >>> 2;
    folded = (folded | (folded >>> 1)) & 0x01010101;
    const four = (folded | (folded >>> 7) | (folded >>> 14) | (folded >>> 21)) & 15;
    cells[start + (w >> 3)] |= four << ((w & 7) * 4);
  }
}

/** The cells no more than `reach` cells from a marked one, sideways, up and down, and both. */
export function widenedCells(cells: BitPlane, reach: number): BitPlane {
  const { heightPx, wordsPerRow, words } = cells;
  const rows = Uint32Array.from(words);
  for (let row = 0; row < heightPx; row++) {
    const line = rows.subarray(row * wordsPerRow, (row + 1) * wordsPerRow);
    for (let step = 0; step < reach; step++) widenRow(line);
  }
  const wide = createBitPlane(cells.widthPx, heightPx);
  for (let row = 0; row < heightPx; row++) {
    const line = wide.words.subarray(row * wordsPerRow, (row + 1) * wordsPerRow);
    const last = Math.min(heightPx - 1, row + reach);
    for (let from = Math.max(0, row - reach); from <= last; from++) {
      for (let w = 0; w < wordsPerRow; w++) line[w] |= rows[from * wordsPerRow + w];
    }
  }
  clearTails(wide);
  return wide;
}

function widenRow(line: Uint32Array): void {
  let before = 0;
  for (let w = 0; w < line.length; w++) {
    const word = line[w];
    const next = w + 1 < line.length ? line[w + 1] : 0;
    line[w] = word | (word << 1) | (word >>> 1) | (before >>> 31) | (next << 31);
    before = word;
  }
}
