import { type BitPlane, createBitPlane } from './bitPlane.ts';
import { Layout } from './kernels/kernelModule.ts';
import { outlineKernels } from './kernels/outlineModule.ts';
import { clearTails } from './morphology.ts';

/** Side of a cell in pixels: four to a word. */
export const cellPx = 8;

/**
 * The cells of 8 × 8 px of a plane at which an edge between ink and clear film lies, one bit a cell: pixels on both
 * sides of an edge mark theirs, so a cell that is not marked holds only ink or only clear film and so do the pixels
 * along its sides. Ink that reaches the border of the film has an edge there.
 */
export function findEdgeCells(plane: BitPlane): BitPlane {
  const { widthPx, heightPx, wordsPerRow, words } = plane;
  const cells = createBitPlane(Math.ceil(widthPx / cellPx), Math.ceil(heightPx / cellPx));
  const kernels = outlineKernels();
  const layout = new Layout(kernels);
  const planeAt = layout.take(4 * words.length);
  const cellsAt = layout.take(4 * cells.words.length);
  const scratch = layout.take(4 * wordsPerRow);
  const memory = new Uint32Array(kernels.memory.buffer);
  memory.set(words, planeAt >> 2);
  memory.fill(0, cellsAt >> 2, (cellsAt >> 2) + cells.words.length);
  kernels.findEdgeCells(planeAt, wordsPerRow, heightPx, cellsAt, cells.wordsPerRow, scratch);
  cells.words.set(memory.subarray(cellsAt >> 2, (cellsAt >> 2) + cells.words.length));
  clearTails(cells);
  return cells;
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
