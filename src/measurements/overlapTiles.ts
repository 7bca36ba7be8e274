import type { BitPlane } from '../raster/bitPlane.ts';
import type { PixelGrid } from '../raster/pixelGrid.ts';

export const edgeTilePx = 32;

/** Which 32 × 32 px tiles of a plane hold an edge between ink and clear film (1) or none (0). */
export interface EdgeTiles {
  readonly tilesPerRow: number;
  readonly tileRows: number;
  readonly flags: Uint8Array;
}

/** Finds the tiles of a plane that hold an edge. An edge on the border of two tiles counts for both. */
export function findEdgeTiles(plane: BitPlane): EdgeTiles {
  const { words, wordsPerRow, heightPx } = plane;
  const tileRows = Math.ceil(heightPx / edgeTilePx);
  const flags = new Uint8Array(tileRows * wordsPerRow);
  const clearRow = new Uint32Array(wordsPerRow);
  for (let row = 0; row < heightPx; row++) {
    const start = row * wordsPerRow;
    const above = row === 0 ? clearRow : words;
    const aboveStart = row === 0 ? 0 : start - wordsPerRow;
    const tile = (row >> 5) * wordsPerRow;
    let carry = 0;
    for (let w = 0; w < wordsPerRow; w++) {
      const word = words[start + w];
      const upright = word ^ ((word << 1) | carry);
      const level = word ^ above[aboveStart + w];
      if ((upright | level) !== 0) {
        flags[tile + w] = 1;
        if ((upright & 1) !== 0 && w > 0) flags[tile + w - 1] = 1;
        if (level !== 0 && (row & 31) === 0 && row > 0) flags[tile + w - wordsPerRow] = 1;
      }
      carry = word >>> 31;
    }
  }
  return { tilesPerRow: wordsPerRow, tileRows, flags };
}

/** Tiles of another grid's plane brought over to the tiles of `grid`, each marking every tile it touches in film space. */
export function mapEdgeTiles(tiles: EdgeTiles, from: PixelGrid, grid: PixelGrid, wordsPerRow: number): EdgeTiles {
  const tileRows = Math.ceil(grid.heightPx / edgeTilePx);
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
  const acrossTiles = Math.ceil((reachColumnsPx + 1) / edgeTilePx);
  const downTiles = Math.ceil((reachRowsPx + 1) / edgeTilePx);
  const widened = new Uint8Array(own.flags.length);
  for (let row = 0; row < tileRows; row++) {
    const start = row * tilesPerRow;
    let last = -Infinity;
    for (let c = 0; c < tilesPerRow + acrossTiles; c++) {
      if (c < tilesPerRow && other.flags[start + c] !== 0) last = c;
      const target = c - acrossTiles;
      if (target >= 0 && last >= target - acrossTiles) widened[start + target] = 1;
    }
  }
  const near = new Uint8Array(own.flags.length);
  for (let c = 0; c < tilesPerRow; c++) {
    let last = -Infinity;
    for (let row = 0; row < tileRows + downTiles; row++) {
      if (row < tileRows && widened[row * tilesPerRow + c] !== 0) last = row;
      const target = row - downTiles;
      const index = target * tilesPerRow + c;
      if (target >= 0 && last >= target - downTiles && own.flags[index] !== 0) near[index] = 1;
    }
  }
  return near;
}
