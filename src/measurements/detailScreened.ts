import type { BoxMm } from '../geometry/box.ts';
import { type BitPlane, createBitPlane } from '../raster/bitPlane.ts';
import { boxOfPixels, type PixelGrid } from '../raster/pixelGrid.ts';
import { findChainedTone } from './detailChainedTone.ts';
import type { Spots } from './detailSpots.ts';
import { connectTiles, countSpots, isToneSpot, layTiles, type Tiles, tileOfSpot, tilesAround } from './detailTiles.ts';

/** 35 lpi has 1.9 cells a mm². Text has as many letters or counters only below 4 pt, which no mesh holds. */
const coreSpotsPerMm2 = 1.2;
const rimSpotsPerMm2 = 0.4;
/** Less area or breadth than this is a pattern in line art. */
const leastAreaMm2 = 30;
const leastSideMm = 4.5;

/** A tile with more than this share of its neighbours in a tone is an enclave of it. */
const enclaveShare = 0.6;

const artKind = 0;
const rimKind = 1;
const toneKind = 2;

/** Which parts of a plate are tone rather than line art, by tiles. */
export interface ScreenedTiles {
  readonly tiles: Tiles;
  /** 0: line art; 1: rim of a tone, whose small spots belong to it; 2: tone throughout. */
  readonly kinds: Uint8Array;
  readonly any: boolean;
}

/**
 * Finds the screened parts: connected tiles each holding many small dots, or many small holes, or pieces that only just
 * hang together.
 */
export function findScreened(plane: BitPlane, dots: Spots, holes: Spots, grid: PixelGrid): ScreenedTiles {
  const tiles = layTiles(grid);
  const holeCounts = countSpots(tiles, holes);
  const most = countSpots(tiles, dots).map((count, index) => Math.max(count, holeCounts[index]));
  const kinds = Uint8Array.from(most, (count) => (count >= coreSpotsPerMm2 * tiles.areaMm2 ? toneKind : artKind));
  const chained = findChainedTone(plane, tiles, (index) => kinds[index] === toneKind);
  for (let index = 0; index < kinds.length; index++) if (chained[index] === 1) kinds[index] = toneKind;
  if (kinds.includes(toneKind)) {
    grow(kinds, tiles, (index) => most[index] >= rimSpotsPerMm2 * tiles.areaMm2);
    dropSmallRegions(kinds, tiles);
    fillEnclaves(kinds, tiles);
    markRim(kinds, tiles, (index) => most[index] > 0);
  }
  return { tiles, kinds, any: kinds.includes(toneKind) };
}

/** Whether a spot is part of a tone. */
export function isOfTone({ tiles, kinds }: ScreenedTiles, spots: Spots, index: number): boolean {
  const kind = kinds[tileOfSpot(tiles, spots, index)];
  return kind === toneKind || (kind === rimKind && isToneSpot(tiles, spots, index));
}

/** Adds neighbours that qualify, and theirs. */
function grow(kinds: Uint8Array, tiles: Tiles, qualifies: (index: number) => boolean): void {
  const pending: number[] = [];
  for (let index = 0; index < kinds.length; index++) if (kinds[index] === toneKind) pending.push(index);
  for (let index = pending.pop(); index !== undefined; index = pending.pop()) {
    for (const next of tilesAround(tiles, index)) {
      if (kinds[next] === toneKind || !qualifies(next)) continue;
      kinds[next] = toneKind;
      pending.push(next);
    }
  }
}

function dropSmallRegions(kinds: Uint8Array, tiles: Tiles): void {
  const { sidePx, areaMm2, grid } = tiles;
  for (const region of connectTiles(tiles, (index) => kinds[index] === toneKind)) {
    const widthMm = (region.right - region.left) * sidePx * grid.pitchXMm;
    const heightMm = (region.bottom - region.top) * sidePx * grid.pitchYMm;
    if (region.tiles.length * areaMm2 >= leastAreaMm2 && Math.min(widthMm, heightMm) >= leastSideMm) continue;
    for (const index of region.tiles) kinds[index] = artKind;
  }
}

function fillEnclaves(kinds: Uint8Array, tiles: Tiles): void {
  const before = kinds.slice();
  for (let index = 0; index < kinds.length; index++) {
    const around = tilesAround(tiles, index);
    const inTone = around.filter((next) => before[next] === toneKind).length;
    if (inTone > enclaveShare * around.length) kinds[index] = toneKind;
  }
}

function markRim(kinds: Uint8Array, tiles: Tiles, qualifies: (index: number) => boolean): void {
  for (let index = 0; index < kinds.length; index++) {
    if (kinds[index] !== toneKind) continue;
    for (const next of tilesAround(tiles, index)) {
      if (kinds[next] === artKind && qualifies(next)) kinds[next] = rimKind;
    }
  }
}

/** A plane that is opaque on the tiles that are tone throughout. */
export function screenedPlane({ tiles, kinds }: ScreenedTiles): BitPlane {
  const { grid, sidePx, perRow } = tiles;
  const plane = createBitPlane(grid.widthPx, grid.heightPx);
  const wordsPerTile = sidePx / 32;
  const lastWord = (grid.widthPx - 1) >> 5;
  const tail = (grid.widthPx & 31) === 0 ? -1 : (1 << (grid.widthPx & 31)) - 1;
  for (let row = 0; row < grid.heightPx; row++) {
    const base = Math.floor(row / sidePx) * perRow;
    for (let word = 0; word <= lastWord; word++) {
      if (kinds[base + Math.floor(word / wordsPerTile)] !== toneKind) continue;
      plane.words[row * plane.wordsPerRow + word] = word === lastWord ? tail : 0xffffffff;
    }
  }
  return plane;
}

/** Share of the film and boxes of the connected screened parts, largest first. */
export function screenedAreas({ tiles, kinds }: ScreenedTiles): { sharePercent: number; boxesMm: BoxMm[] } {
  const { grid, sidePx, perRow } = tiles;
  const columnAt = (tile: number) => Math.min(grid.widthPx, tile * sidePx);
  const rowAt = (tile: number) => Math.min(grid.heightPx, tile * sidePx);
  let pixels = 0;
  const regions = connectTiles(tiles, (index) => kinds[index] === toneKind);
  for (const region of regions) {
    for (const index of region.tiles) {
      const column = index % perRow;
      const row = (index - column) / perRow;
      pixels += (columnAt(column + 1) - columnAt(column)) * (rowAt(row + 1) - rowAt(row));
    }
  }
  regions.sort((a, b) => b.tiles.length - a.tiles.length || a.top - b.top || a.left - b.left);
  return {
    sharePercent: (100 * pixels) / (grid.widthPx * grid.heightPx),
    boxesMm: regions.map(({ left, top, right, bottom }) =>
      boxOfPixels(grid, columnAt(left), rowAt(top), columnAt(right), rowAt(bottom)),
    ),
  };
}
