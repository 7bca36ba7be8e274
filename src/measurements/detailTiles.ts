import type { PixelGrid } from '../raster/pixelGrid.ts';
import type { Spots } from './detailSpots.ts';

/** Tiles are about this wide, a whole number of words. */
const tileMm = 2.2;
/** A dot or hole of the coarsest ruling in use on garments, 35 lpi, fits its cell of 0.73 mm; with some to spare. */
export const toneSpotMm = 0.95;
/** Less area of dots than this is a pattern in line art. */
export const leastToneMm2 = 30;

/** A plate laid out in square tiles, row by row; those at the right and lower edges may reach beyond it. */
export interface Tiles {
  readonly grid: PixelGrid;
  readonly sidePx: number;
  readonly perRow: number;
  readonly rows: number;
  readonly areaMm2: number;
}

export function layTiles(grid: PixelGrid): Tiles {
  const sidePx = 32 * Math.max(1, Math.round(tileMm / grid.pitchXMm / 32));
  return {
    grid,
    sidePx,
    perRow: Math.ceil(grid.widthPx / sidePx),
    rows: Math.ceil(grid.heightPx / sidePx),
    areaMm2: sidePx * sidePx * grid.pitchXMm * grid.pitchYMm,
  };
}

export function tileOfPixel({ sidePx, perRow }: Tiles, column: number, row: number): number {
  return Math.floor(row / sidePx) * perRow + Math.floor(column / sidePx);
}

export function tileOfSpot(tiles: Tiles, spots: Spots, index: number): number {
  const column = spots.lefts[index] + (spots.widths[index] >> 1);
  return tileOfPixel(tiles, column, spots.rows[index] + (spots.heights[index] >> 1));
}

/** Whether a spot is small enough for a halftone dot or hole. */
export function isToneSpot(tiles: Tiles, spots: Spots, index: number): boolean {
  const { pitchXMm, pitchYMm } = tiles.grid;
  return spots.widths[index] * pitchXMm <= toneSpotMm && spots.heights[index] * pitchYMm <= toneSpotMm;
}

/** How many small spots each tile holds. */
export function countSpots(tiles: Tiles, spots: Spots): Uint32Array {
  const counts = new Uint32Array(tiles.perRow * tiles.rows);
  for (let index = 0; index < spots.count; index++) {
    if (isToneSpot(tiles, spots, index)) counts[tileOfSpot(tiles, spots, index)]++;
  }
  return counts;
}

/** Tiles around one, up to eight. */
export function tilesAround({ perRow, rows }: Tiles, index: number): number[] {
  const column = index % perRow;
  const row = (index - column) / perRow;
  const result: number[] = [];
  for (let r = Math.max(0, row - 1); r <= Math.min(rows - 1, row + 1); r++) {
    for (let c = Math.max(0, column - 1); c <= Math.min(perRow - 1, column + 1); c++) {
      if (r !== row || c !== column) result.push(r * perRow + c);
    }
  }
  return result;
}

/** Connected tiles, and the columns and rows of tiles around them, `right` and `bottom` one past the last. */
export interface TileRegion {
  readonly tiles: number[];
  left: number;
  top: number;
  right: number;
  bottom: number;
}

export function connectTiles(tiles: Tiles, belongs: (index: number) => boolean): TileRegion[] {
  const count = tiles.perRow * tiles.rows;
  const seen = new Uint8Array(count);
  const regions: TileRegion[] = [];
  for (let start = 0; start < count; start++) {
    if (seen[start] === 1 || !belongs(start)) continue;
    const region: TileRegion = { tiles: [start], left: Infinity, top: Infinity, right: 0, bottom: 0 };
    seen[start] = 1;
    for (let k = 0; k < region.tiles.length; k++) {
      const index = region.tiles[k];
      const column = index % tiles.perRow;
      const row = (index - column) / tiles.perRow;
      region.left = Math.min(region.left, column);
      region.right = Math.max(region.right, column + 1);
      region.top = Math.min(region.top, row);
      region.bottom = Math.max(region.bottom, row + 1);
      for (const next of tilesAround(tiles, index)) {
        if (seen[next] === 1 || !belongs(next)) continue;
        seen[next] = 1;
        region.tiles.push(next);
      }
    }
    regions.push(region);
  }
  return regions;
}
