import { type BitPlane, createBitPlane } from '../raster/bitPlane.ts';
import { clearTails } from '../raster/morphology.ts';

/** Side of a cell in pixels: four to a word. */
export const cellPx = 8;

/**
 * The cells of 8 × 8 px of a plane at which an edge between ink and clear film lies, one bit a cell: pixels on both
 * sides of an edge mark theirs, so a cell that is not marked holds only ink or only clear film and so do the pixels
 * along its sides. Ink that reaches the border of the film has an edge there.
 */
export function findEdgeCells(plane: BitPlane): BitPlane {
  const { widthPx, heightPx, wordsPerRow } = plane;
  const words = new Int32Array(plane.words.buffer, plane.words.byteOffset, plane.words.length);
  const beyond = new Int32Array(wordsPerRow);
  const rowAt = (row: number): Int32Array =>
    row < 0 || row >= heightPx ? beyond : words.subarray(row * wordsPerRow, (row + 1) * wordsPerRow);
  const cells = createBitPlane(Math.ceil(widthPx / cellPx), Math.ceil(heightPx / cellPx));
  const edges = new Int32Array(wordsPerRow);
  for (let cellRow = 0; cellRow < cells.heightPx; cellRow++) {
    edges.fill(0);
    const end = Math.min(heightPx, (cellRow + 1) * cellPx);
    let above = rowAt(cellRow * cellPx - 1);
    for (let row = cellRow * cellPx; row < end; row++) {
      const here = rowAt(row);
      addEdges(above, here, edges);
      above = here;
    }
    addLevelEdges(above, rowAt(end), edges);
    gatherCells(edges, cells.words.subarray(cellRow * cells.wordsPerRow, (cellRow + 1) * cells.wordsPerRow));
  }
  clearTails(cells);
  return cells;
}

/** Marks the pixels of a row beside an upright edge, and those below which another ink than above them begins. */
function addEdges(above: Int32Array, here: Int32Array, edges: Int32Array): void {
  const count = edges.length;
  let before = 0;
  let word = here[0];
  for (let w = 0; w < count; w++) {
    const next = w + 1 < count ? here[w + 1] : 0;
    const fromLeft = word ^ ((word << 1) | (before >>> 31));
    const fromRight = word ^ ((word >>> 1) | (next << 31));
    edges[w] |= fromLeft | fromRight | (word ^ above[w]);
    before = word;
    word = next;
  }
}

function addLevelEdges(above: Int32Array, here: Int32Array, edges: Int32Array): void {
  for (let w = 0; w < edges.length; w++) edges[w] |= above[w] ^ here[w];
}

/** One bit for each eight columns that hold a marked pixel. */
function gatherCells(edges: Int32Array, cells: Uint32Array): void {
  for (let w = 0; w < edges.length; w++) {
    let folded = edges[w];
    folded |= folded >>> 4;
    folded |= folded >>> 2;
    folded = (folded | (folded >>> 1)) & 0x01010101;
    cells[w >> 3] |= ((folded | (folded >>> 7) | (folded >>> 14) | (folded >>> 21)) & 15) << ((w & 7) * 4);
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
    for (let from = Math.max(0, row - reach); from <= last; from++) joinRow(rows, from * wordsPerRow, line);
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

function joinRow(rows: Uint32Array, start: number, line: Uint32Array): void {
  for (let w = 0; w < line.length; w++) line[w] |= rows[start + w];
}
