import type { BitPlane } from '../raster/bitPlane.ts';
import type { PixelGrid } from '../raster/pixelGrid.ts';

export const tilePx = 32;

/** Which 32 × 32 px tiles of a plane hold an edge between ink and clear film (1) or none (0). */
export interface EdgeTiles {
  readonly tilesPerRow: number;
  readonly tileRows: number;
  readonly flags: Uint8Array;
}

/** The tiles of a plane of so many words a row that hold marked cells (of 8 px, four to a word). */
export function tilesOfCells(cells: BitPlane, tilesPerRow: number): EdgeTiles {
  const tileRows = Math.ceil(cells.heightPx / 4);
  const flags = new Uint8Array(tileRows * tilesPerRow);
  for (let row = 0; row < cells.heightPx; row++) {
    const start = (row >> 2) * tilesPerRow;
    markTiles(cells.words, row * cells.wordsPerRow, flags.subarray(start, start + tilesPerRow));
  }
  return { tilesPerRow, tileRows, flags };
}

function markTiles(cells: Uint32Array, start: number, flags: Uint8Array): void {
  for (let tile = 0; tile < flags.length; tile++) {
    const four = (cells[start + (tile >> 3)] >>> (4 * (tile & 7))) & 15;
    flags[tile] |= (four | (four >> 1) | (four >> 2) | (four >> 3)) & 1;
  }
}

/** Tiles of another grid's plane brought over to the tiles of `grid`, each marking every tile it touches in film space. */
export function mapEdgeTiles(tiles: EdgeTiles, from: PixelGrid, grid: PixelGrid, wordsPerRow: number): EdgeTiles {
  const tileRows = Math.ceil(grid.heightPx / tilePx);
  const flags = new Uint8Array(tileRows * wordsPerRow);
  const scaleX = from.pitchXMm / grid.pitchXMm;
  const scaleY = from.pitchYMm / grid.pitchYMm;
  for (let index = 0; index < tiles.flags.length; index++) {
    if (tiles.flags[index] === 0) continue;
    const column = index % tiles.tilesPerRow;
    const row = (index - column) / tiles.tilesPerRow;
    const right = Math.min(wordsPerRow - 1, Math.floor((column + 1) * scaleX));
    const bottom = Math.min(tileRows - 1, Math.floor((row + 1) * scaleY));
    for (let r = Math.floor(row * scaleY); r <= bottom; r++) {
      for (let c = Math.floor(column * scaleX); c <= right; c++) flags[r * wordsPerRow + c] = 1;
    }
  }
  return { tilesPerRow: wordsPerRow, tileRows, flags };
}

/** Tiles with an edge of `own` that have an edge of `other` no more than the reach away (both on the same tiles). */
export function tilesWithinReach(
  own: EdgeTiles,
  other: EdgeTiles,
  reachColumnsPx: number,
  reachRowsPx: number,
): Uint8Array {
  const { tilesPerRow, tileRows } = own;
  const acrossTiles = Math.ceil((reachColumnsPx + 1) / tilePx);
  const downTiles = Math.ceil((reachRowsPx + 1) / tilePx);
  const widened = new Uint8Array(own.flags.length);
  for (let row = 0; row < tileRows; row++) {
    const start = row * tilesPerRow;
    const line = other.flags.subarray(start, start + tilesPerRow);
    for (let off = -acrossTiles; off <= acrossTiles; off++) joinFlags(line, widened, start, off);
  }
  const near = new Uint8Array(own.flags.length);
  for (let row = 0; row < tileRows; row++) {
    const line = near.subarray(row * tilesPerRow, (row + 1) * tilesPerRow);
    const last = Math.min(tileRows - 1, row + downTiles);
    for (let from = Math.max(0, row - downTiles); from <= last; from++) {
      joinFlags(widened.subarray(from * tilesPerRow, (from + 1) * tilesPerRow), line, 0, 0);
    }
    for (let c = 0; c < tilesPerRow; c++) line[c] &= own.flags[row * tilesPerRow + c];
  }
  return near;
}

/** Adds flags, moved by so many places, to those of a line that begins at `start`. */
function joinFlags(flags: Uint8Array, target: Uint8Array, start: number, off: number): void {
  const from = Math.max(0, -off);
  const end = Math.min(flags.length, flags.length - off);
  for (let c = from; c < end; c++) target[start + c + off] |= flags[c];
}
