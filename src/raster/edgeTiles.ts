import type { BoxMm } from '../geometry/box.ts';
import type { PixelGrid } from './pixelGrid.ts';

/** Side of a tile in pixels: a word. */
export const tilePx = 32;

/** Which 32 × 32 px tiles of a plane hold an edge between ink and clear film (1) or none (0), row by row. */
export interface EdgeTiles {
  readonly tilesPerRow: number;
  readonly flags: Uint8Array;
}

export function tileRowsOf(grid: PixelGrid): number {
  return Math.ceil(grid.heightPx / tilePx);
}

/** How many tiles away along rows or columns of that pitch a tile may lie and yet hold a pixel within reach. */
export function tilesWithinReach(reachMm: number, pitchMm: number): number {
  return Math.ceil((reachMm / pitchMm + 1) / tilePx);
}

/** 1: a tile of a grid that one of the boxes touches. */
export function tilesOfBoxes(boxes: readonly BoxMm[], grid: PixelGrid, tilesPerRow: number): Uint8Array {
  const tileRows = tileRowsOf(grid);
  const flags = new Uint8Array(tilesPerRow * tileRows);
  for (const { xMm, yMm, widthMm, heightMm } of boxes) {
    const left = Math.max(0, Math.floor(xMm / grid.pitchXMm / tilePx));
    const right = Math.min(tilesPerRow, Math.floor((xMm + widthMm) / grid.pitchXMm / tilePx) + 1);
    const bottom = Math.min(tileRows, Math.floor((yMm + heightMm) / grid.pitchYMm / tilePx) + 1);
    for (let row = Math.max(0, Math.floor(yMm / grid.pitchYMm / tilePx)); row < bottom; row++) {
      if (left < right) flags.fill(1, row * tilesPerRow + left, row * tilesPerRow + right);
    }
  }
  return flags;
}

/** Tiles of one grid brought over to those of another, each marking every tile it touches in film space. */
export function mapEdgeTiles(tiles: EdgeTiles, from: PixelGrid, to: PixelGrid, tilesPerRow: number): Uint8Array {
  const tileRows = tileRowsOf(to);
  const flags = new Uint8Array(tileRows * tilesPerRow);
  const scaleX = from.pitchXMm / to.pitchXMm;
  const scaleY = from.pitchYMm / to.pitchYMm;
  for (let index = 0; index < tiles.flags.length; index++) {
    if (tiles.flags[index] === 0) continue;
    const column = index % tiles.tilesPerRow;
    const row = (index - column) / tiles.tilesPerRow;
    const right = Math.min(tilesPerRow - 1, Math.floor((column + 1) * scaleX));
    const bottom = Math.min(tileRows - 1, Math.floor((row + 1) * scaleY));
    for (let r = Math.floor(row * scaleY); r <= bottom; r++) {
      for (let c = Math.floor(column * scaleX); c <= right; c++) flags[r * tilesPerRow + c] = 1;
    }
  }
  return flags;
}
