import { kernels } from './kernels/kernelModule.ts';
import { tilesOnCellsByKernel } from './kernels/tilesOnCellsByKernel.ts';

/**
 * Cells of a map turned against square tiles. A place x, y in tiles lies in the column floor(acrossU · x + downU · y + atU)
 * less `left`, and in the row floor(acrossV · x + downV · y + atV) less `top`.
 */
export interface TurnedFlags {
  readonly acrossU: number;
  readonly downU: number;
  readonly atU: number;
  readonly acrossV: number;
  readonly downV: number;
  readonly atV: number;
  readonly left: number;
  readonly top: number;
  readonly columns: number;
  readonly rows: number;
  /** Row by row, 1 or 0. */
  readonly flags: Uint8Array;
}

/**
 * Which tiles, row by row, have a place in a flagged cell, 1.
 * @param places across and down in a tile, each 0 … 1
 */
export function tilesOnCells(cells: TurnedFlags, perRow: number, rows: number, places: Float64Array): Uint8Array {
  const loaded = kernels();
  return loaded === null
    ? tilesOnCellsPlain(cells, perRow, rows, places)
    : tilesOnCellsByKernel(loaded, cells, perRow, rows, places);
}

/** `tilesOnCells` tile by tile. */
export function tilesOnCellsPlain(cells: TurnedFlags, perRow: number, rows: number, places: Float64Array): Uint8Array {
  const found = new Uint8Array(perRow * rows);
  for (let tile = 0; tile < found.length; tile++) {
    for (let k = 0; k < places.length; k += 2) {
      const x = (tile % perRow) + places[k];
      const y = Math.floor(tile / perRow) + places[k + 1];
      const column = Math.floor(cells.acrossU * x + cells.downU * y + cells.atU) - cells.left;
      const row = Math.floor(cells.acrossV * x + cells.downV * y + cells.atV) - cells.top;
      if (column < 0 || row < 0 || column >= cells.columns || row >= cells.rows) continue;
      if (cells.flags[row * cells.columns + column] === 1) found[tile] = 1;
    }
  }
  return found;
}
