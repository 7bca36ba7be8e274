import type { BoxMm } from '../geometry/box.ts';
import { type BitPlane, createBitPlane } from '../raster/bitPlane.ts';
import { boxOfPixels, type PixelGrid } from '../raster/pixelGrid.ts';
import type { Spots } from './detailSpots.ts';

/** Tiles are about this wide, a whole number of words. */
const tileMm = 2.2;
/** A dot or hole of the coarsest ruling in use on garments, 35 lpi, fits its cell of 0.73 mm; with some to spare. */
const toneSpotMm = 0.95;
/**
 * 35 lpi has 1.9 cells a mm². Text has as many letters or counters only below 4 pt, which no mesh holds.
 */
const coreSpotsPerMm2 = 1.2;
const rimSpotsPerMm2 = 0.4;
/** Fewer tiles than this area and breadth are a pattern in line art. */
const leastAreaMm2 = 30;
const leastSideMm = 4.5;
/** Two cores this many tiles apart, with as busy a stretch between them, are one tone passing through its middle. */
const bridgeTiles = 6;
const bridgeBusyness = 0.5;

/** Which parts of a plate are tone rather than line art, by tiles. */
export interface ScreenedTiles {
  readonly sidePx: number;
  readonly tilesPerRow: number;
  /** 0: line art; 1: rim, whose small spots belong to the tone; 2: tone throughout. */
  readonly kinds: Uint8Array;
  readonly any: boolean;
}

/**
 * Finds the screened parts: connected tiles each holding many small dots, or many small holes. What a tone's middle
 * joins to chains lies between such tiles and is added by the number of edges in it.
 */
export function findScreened(plane: BitPlane, dots: Spots, holes: Spots, grid: PixelGrid): ScreenedTiles {
  const sidePx = 32 * Math.max(1, Math.round(tileMm / grid.pitchXMm / 32));
  const tilesPerRow = Math.ceil(grid.widthPx / sidePx);
  const tileRows = Math.ceil(grid.heightPx / sidePx);
  const tiles: Tiles = { sidePx, tilesPerRow, tileRows };
  const tileMm2 = sidePx * sidePx * grid.pitchXMm * grid.pitchYMm;
  const dotCounts = countByTile(dots, tiles, grid);
  const holeCounts = countByTile(holes, tiles, grid);
  const most = dotCounts.map((count, index) => Math.max(count, holeCounts[index]));
  const kinds = new Uint8Array(most.length);
  for (let index = 0; index < kinds.length; index++) if (most[index] >= coreSpotsPerMm2 * tileMm2) kinds[index] = 2;
  if (kinds.includes(2)) {
    bridge(kinds, busynessByTile(plane, tiles), tiles);
    grow(kinds, tiles, (index) => most[index] >= rimSpotsPerMm2 * tileMm2);
    dropSmallRegions(kinds, tiles, grid);
    markRim(kinds, tiles, (index) => most[index] > 0);
  }
  return { sidePx, tilesPerRow, kinds, any: kinds.includes(2) };
}

interface Tiles {
  readonly sidePx: number;
  readonly tilesPerRow: number;
  readonly tileRows: number;
}

export function tileOfPixel(tiles: { sidePx: number; tilesPerRow: number }, column: number, row: number): number {
  return Math.floor(row / tiles.sidePx) * tiles.tilesPerRow + Math.floor(column / tiles.sidePx);
}

/** Whether a spot is small enough for a halftone dot or hole. */
export function isToneSpot(spots: Spots, index: number, grid: PixelGrid): boolean {
  return spots.widths[index] * grid.pitchXMm <= toneSpotMm && spots.heights[index] * grid.pitchYMm <= toneSpotMm;
}

export function tileOfSpot(tiles: { sidePx: number; tilesPerRow: number }, spots: Spots, index: number): number {
  const column = spots.lefts[index] + (spots.widths[index] >> 1);
  return tileOfPixel(tiles, column, spots.rows[index] + (spots.heights[index] >> 1));
}

function countByTile(spots: Spots, tiles: Tiles, grid: PixelGrid): Uint32Array {
  const counts = new Uint32Array(tiles.tilesPerRow * tiles.tileRows);
  for (let index = 0; index < spots.count; index++) {
    if (isToneSpot(spots, index, grid)) counts[tileOfSpot(tiles, spots, index)]++;
  }
  return counts;
}

/** Changes between opaque and clear along the rows and along the columns of each tile: the smaller of the two. */
function busynessByTile(plane: BitPlane, { sidePx, tilesPerRow, tileRows }: Tiles): Uint32Array {
  const across = new Uint32Array(tilesPerRow * tileRows);
  const down = new Uint32Array(tilesPerRow * tileRows);
  const { heightPx, wordsPerRow, words } = plane;
  const wordsPerTile = sidePx / 32;
  for (let row = 0; row < heightPx; row++) {
    const tileRow = Math.floor(row / sidePx) * tilesPerRow;
    const base = row * wordsPerRow;
    const before = row === 0 ? base : base - wordsPerRow;
    for (let index = 0; index < wordsPerRow; index++) {
      const word = words[base + index];
      const upper = words[before + index];
      if ((word === 0 || word === 0xffffffff) && word === upper) continue;
      const tile = tileRow + Math.min(tilesPerRow - 1, Math.floor(index / wordsPerTile));
      across[tile] += bitCount((word ^ (word >>> 1)) & 0x7fffffff);
      down[tile] += bitCount(word ^ upper);
    }
  }
  return across.map((count, index) => Math.min(count, down[index]));
}

function bitCount(word: number): number {
  let v = word - ((word >>> 1) & 0x55555555);
  v = (v & 0x33333333) + ((v >>> 2) & 0x33333333);
  return (((v + (v >>> 4)) & 0x0f0f0f0f) * 0x01010101) >>> 24;
}

function bridge(kinds: Uint8Array, busyness: Uint32Array, tiles: Tiles): void {
  const { tilesPerRow, tileRows } = tiles;
  const cores = kinds.slice();
  const spanned = (index: number, step: number, stepsBack: number, stepsAhead: number): boolean => {
    let back = 1;
    while (back <= Math.min(bridgeTiles, stepsBack) && cores[index - back * step] !== 2) back++;
    let ahead = 1;
    while (ahead <= Math.min(bridgeTiles, stepsAhead) && cores[index + ahead * step] !== 2) ahead++;
    if (back > Math.min(bridgeTiles, stepsBack) || ahead > Math.min(bridgeTiles, stepsAhead)) return false;
    const busy = Math.min(busyness[index - back * step], busyness[index + ahead * step]);
    return busyness[index] >= bridgeBusyness * busy;
  };
  for (let index = 0; index < kinds.length; index++) {
    if (cores[index] === 2) continue;
    const column = index % tilesPerRow;
    const row = (index - column) / tilesPerRow;
    if (spanned(index, 1, column, tilesPerRow - 1 - column) || spanned(index, tilesPerRow, row, tileRows - 1 - row)) {
      kinds[index] = 2;
    }
  }
}

/** Adds neighbours that qualify, and theirs. */
function grow(kinds: Uint8Array, tiles: Tiles, qualifies: (index: number) => boolean): void {
  const pending: number[] = [];
  for (let index = 0; index < kinds.length; index++) if (kinds[index] === 2) pending.push(index);
  for (let index = pending.pop(); index !== undefined; index = pending.pop()) {
    for (const next of neighbours(index, tiles)) {
      if (kinds[next] === 2 || !qualifies(next)) continue;
      kinds[next] = 2;
      pending.push(next);
    }
  }
}

function dropSmallRegions(kinds: Uint8Array, tiles: Tiles, grid: PixelGrid): void {
  for (const region of regionsOf(kinds, tiles)) {
    const { left, top, right, bottom } = region;
    const areaMm2 = region.tiles.length * tiles.sidePx ** 2 * grid.pitchXMm * grid.pitchYMm;
    const sideMm = Math.min((right - left) * grid.pitchXMm, (bottom - top) * grid.pitchYMm) * tiles.sidePx;
    if (areaMm2 >= leastAreaMm2 && sideMm >= leastSideMm) continue;
    for (const index of region.tiles) kinds[index] = 0;
  }
}

function markRim(kinds: Uint8Array, tiles: Tiles, qualifies: (index: number) => boolean): void {
  for (let index = 0; index < kinds.length; index++) {
    if (kinds[index] !== 2) continue;
    for (const next of neighbours(index, tiles)) if (kinds[next] === 0 && qualifies(next)) kinds[next] = 1;
  }
}

interface Region {
  tiles: number[];
  left: number;
  top: number;
  right: number;
  bottom: number;
}

function regionsOf(kinds: Uint8Array, tiles: Tiles): Region[] {
  const seen = new Uint8Array(kinds.length);
  const regions: Region[] = [];
  for (let start = 0; start < kinds.length; start++) {
    if (kinds[start] !== 2 || seen[start] === 1) continue;
    const region: Region = { tiles: [start], left: Infinity, top: Infinity, right: 0, bottom: 0 };
    seen[start] = 1;
    for (let k = 0; k < region.tiles.length; k++) {
      const index = region.tiles[k];
      const column = index % tiles.tilesPerRow;
      const row = (index - column) / tiles.tilesPerRow;
      region.left = Math.min(region.left, column);
      region.right = Math.max(region.right, column + 1);
      region.top = Math.min(region.top, row);
      region.bottom = Math.max(region.bottom, row + 1);
      for (const next of neighbours(index, tiles)) {
        if (kinds[next] !== 2 || seen[next] === 1) continue;
        seen[next] = 1;
        region.tiles.push(next);
      }
    }
    regions.push(region);
  }
  return regions;
}

function neighbours(index: number, { tilesPerRow, tileRows }: Tiles): number[] {
  const column = index % tilesPerRow;
  const row = (index - column) / tilesPerRow;
  const result: number[] = [];
  for (let r = Math.max(0, row - 1); r <= Math.min(tileRows - 1, row + 1); r++) {
    for (let c = Math.max(0, column - 1); c <= Math.min(tilesPerRow - 1, column + 1); c++) {
      if (r !== row || c !== column) result.push(r * tilesPerRow + c);
    }
  }
  return result;
}

/** A plane that is opaque on the tiles that are tone throughout. */
export function screenedPlane(screened: ScreenedTiles, grid: PixelGrid): BitPlane {
  const plane = createBitPlane(grid.widthPx, grid.heightPx);
  const { sidePx, tilesPerRow, kinds } = screened;
  const wordsPerTile = sidePx / 32;
  const lastWord = (grid.widthPx - 1) >> 5;
  const tail = (grid.widthPx & 31) === 0 ? -1 : (1 << (grid.widthPx & 31)) - 1;
  for (let row = 0; row < grid.heightPx; row++) {
    const base = Math.floor(row / sidePx) * tilesPerRow;
    for (let word = 0; word <= lastWord; word++) {
      if (kinds[base + Math.floor(word / wordsPerTile)] !== 2) continue;
      plane.words[row * plane.wordsPerRow + word] = word === lastWord ? tail : 0xffffffff;
    }
  }
  return plane;
}

/** Share of the film and boxes of the connected screened parts, largest first. */
export function screenedAreas(screened: ScreenedTiles, grid: PixelGrid): { sharePercent: number; boxesMm: BoxMm[] } {
  const { sidePx, tilesPerRow, kinds } = screened;
  const tiles = { sidePx, tilesPerRow, tileRows: kinds.length / tilesPerRow };
  const widthOf = (column: number) => Math.min(grid.widthPx, (column + 1) * sidePx) - column * sidePx;
  const heightOf = (row: number) => Math.min(grid.heightPx, (row + 1) * sidePx) - row * sidePx;
  let pixels = 0;
  for (let index = 0; index < kinds.length; index++) {
    if (kinds[index] !== 2) continue;
    const column = index % tilesPerRow;
    pixels += widthOf(column) * heightOf((index - column) / tilesPerRow);
  }
  const regions = regionsOf(kinds, tiles).sort(
    (a, b) => b.tiles.length - a.tiles.length || a.top - b.top || a.left - b.left,
  );
  return {
    sharePercent: (100 * pixels) / (grid.widthPx * grid.heightPx),
    boxesMm: regions.map(({ left, top, right, bottom }) =>
      boxOfPixels(
        grid,
        left * sidePx,
        top * sidePx,
        Math.min(grid.widthPx, right * sidePx),
        Math.min(grid.heightPx, bottom * sidePx),
      ),
    ),
  };
}
