import { grownBox } from '../geometry/box.ts';
import { type BitPlane, wordsPerRowFor } from '../raster/bitPlane.ts';
import { boxOfPixels, type PixelGrid } from '../raster/pixelGrid.ts';
import type { Detail, NarrowPlace, SpotPlace } from './detail.ts';
import { findChainedTone } from './detailChainedTone.ts';
import type { LeftOut } from './detailRidges.ts';
import type { Spots } from './detailSpots.ts';
import { countTileEdges, type TileEdges } from './detailTileEdges.ts';
import {
  connectTiles,
  countSpots,
  isToneSpot,
  layTiles,
  leastToneMm2,
  type Tiles,
  tileOfSpot,
  tilesAround,
  toneSpotMm,
} from './detailTiles.ts';

/** 35 lpi has 1.9 cells a mm². Text has as many letters or counters only below 4 pt, which no mesh holds. */
const coreSpotsPerMm2 = 1.2;
const rimSpotsPerMm2 = 0.4;
/** A tone is at least this broad, as it is large. */
const leastSideMm = 4.5;

/** A third of the edges of a coarse halftone: one that fills a third of the tile, or a finer one less. */
const rimEdgesPerMm = 1;
const mostFringeMm = 1.5;
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
  /** 1: a tile of tone throughout with one beside it that is not. */
  readonly atEdge: Uint8Array;
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
  const edges = countTileEdges(plane, tiles);
  const chained = findChainedTone(plane, tiles, edges, (index) => kinds[index] === toneKind);
  for (let index = 0; index < kinds.length; index++) if (chained[index] === 1) kinds[index] = toneKind;
  if (kinds.includes(toneKind)) {
    grow(kinds, tiles, (index) => most[index] >= rimSpotsPerMm2 * tiles.areaMm2);
    dropSmallRegions(kinds, tiles);
    fillEnclaves(kinds, tiles);
    takeBusyRim(kinds, tiles, edges);
    markRim(kinds, tiles);
  }
  const atEdge = kinds.map((kind, index) =>
    kind === toneKind && tilesAround(tiles, index).some((next) => kinds[next] !== toneKind) ? 1 : 0,
  );
  return { tiles, kinds, atEdge, any: kinds.includes(toneKind) };
}

/** Whether a spot is line art, or part of a tone, well within it or where it borders on line art. */
export function placeOfSpot(
  { tiles, kinds, atEdge }: ScreenedTiles,
  spots: Spots,
  index: number,
): 'art' | 'rim' | 'tone' {
  const tile = tileOfSpot(tiles, spots, index);
  if (kinds[tile] !== toneKind) return kinds[tile] === rimKind && isToneSpot(tiles, spots, index) ? 'rim' : 'art';
  return atEdge[tile] === 1 ? 'rim' : 'tone';
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
    if (region.tiles.length * areaMm2 >= leastToneMm2 && Math.min(widthMm, heightMm) >= leastSideMm) continue;
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

/** A tile that a tone reaches into has many edges; a line or two that pass beside the tone have fewer. */
function takeBusyRim(kinds: Uint8Array, tiles: Tiles, { perMm }: TileEdges): void {
  const before = kinds.slice();
  for (let index = 0; index < kinds.length; index++) {
    if (before[index] === toneKind || perMm[index] < rimEdgesPerMm) continue;
    if (tilesAround(tiles, index).some((next) => before[next] === toneKind)) kinds[index] = toneKind;
  }
}

function markRim(kinds: Uint8Array, tiles: Tiles): void {
  for (let index = 0; index < kinds.length; index++) {
    if (kinds[index] !== toneKind) continue;
    for (const next of tilesAround(tiles, index)) if (kinds[next] === artKind) kinds[next] = rimKind;
  }
}

/** Whether a place is what the edge of a tone leaves in the tile beside it: short, and hard by. */
export function isToneFringe({ tiles, kinds, any }: ScreenedTiles, place: NarrowPlace | SpotPlace): boolean {
  if (!any || ('lengthMm' in place && place.lengthMm > mostFringeMm)) return false;
  const { sidePx, perRow, rows, grid } = tiles;
  const { xMm, yMm, widthMm, heightMm } = grownBox(place.boxMm, toneSpotMm);
  const tileAt = (mm: number, pitchMm: number, count: number) =>
    Math.min(count - 1, Math.max(0, Math.floor(mm / pitchMm / sidePx)));
  for (let row = tileAt(yMm, grid.pitchYMm, rows); row <= tileAt(yMm + heightMm, grid.pitchYMm, rows); row++) {
    const from = tileAt(xMm, grid.pitchXMm, perRow);
    const to = tileAt(xMm + widthMm, grid.pitchXMm, perRow);
    for (let column = from; column <= to; column++) if (kinds[row * perRow + column] === toneKind) return true;
  }
  return false;
}

/** The pixels of the tiles that are tone throughout, to be left out of a search for lines. */
export function screenedPixels(screened: ScreenedTiles): LeftOut {
  const { kinds, tiles } = screened;
  return {
    share: (from, to) => {
      const first = Math.floor(from / tiles.sidePx) * tiles.perRow;
      const own = kinds.subarray(first, Math.ceil(to / tiles.sidePx) * tiles.perRow);
      if (!own.includes(toneKind)) return 'none';
      return own.every((kind) => kind === toneKind) ? 'all' : 'some';
    },
    rows: (from, to, into) => screenedRows(screened, from, to, into),
  };
}

function screenedRows({ tiles, kinds }: ScreenedTiles, from: number, to: number, into: Uint32Array): BitPlane {
  const { grid, sidePx, perRow } = tiles;
  const wordsPerRow = wordsPerRowFor(grid.widthPx);
  const words = into.subarray(0, wordsPerRow * (to - from)).fill(0);
  const wordsPerTile = sidePx / 32;
  const lastWord = (grid.widthPx - 1) >> 5;
  const tail = (grid.widthPx & 31) === 0 ? -1 : (1 << (grid.widthPx & 31)) - 1;
  for (let row = from; row < to; row++) {
    const base = Math.floor(row / sidePx) * perRow;
    if (row > from && row % sidePx !== 0) {
      words.copyWithin((row - from) * wordsPerRow, (row - from - 1) * wordsPerRow, (row - from) * wordsPerRow);
      continue;
    }
    for (let word = 0; word <= lastWord; word++) {
      if (kinds[base + Math.floor(word / wordsPerTile)] !== toneKind) continue;
      words[(row - from) * wordsPerRow + word] = word === lastWord ? tail : 0xffffffff;
    }
  }
  return { widthPx: grid.widthPx, heightPx: to - from, wordsPerRow, words };
}

/** Share of the film, boxes and areas of the connected screened parts, largest first. */
export function screenedAreas({ tiles, kinds, atEdge }: ScreenedTiles): Omit<Detail['screened'], 'spotCount'> {
  const { grid, sidePx, perRow } = tiles;
  const columnAt = (tile: number) => Math.min(grid.widthPx, tile * sidePx);
  const rowAt = (tile: number) => Math.min(grid.heightPx, tile * sidePx);
  const pixelsOf = (index: number) => {
    const column = index % perRow;
    const row = (index - column) / perRow;
    return (columnAt(column + 1) - columnAt(column)) * (rowAt(row + 1) - rowAt(row));
  };
  const regions = connectTiles(tiles, (index) => kinds[index] === toneKind);
  regions.sort((a, b) => b.tiles.length - a.tiles.length || a.top - b.top || a.left - b.left);
  const pixels = regions.map((region) => region.tiles.reduce((sum, index) => sum + pixelsOf(index), 0));
  const inner = regions.map((region) =>
    region.tiles.reduce((sum, index) => sum + (1 - atEdge[index]) * pixelsOf(index), 0),
  );
  const mm2 = (own: number) => own * grid.pitchXMm * grid.pitchYMm;
  return {
    sharePercent: (100 * pixels.reduce((sum, own) => sum + own, 0)) / (grid.widthPx * grid.heightPx),
    boxesMm: regions.map(({ left, top, right, bottom }) =>
      boxOfPixels(grid, columnAt(left), rowAt(top), columnAt(right), rowAt(bottom)),
    ),
    areasMm2: pixels.map(mm2),
    innerAreasMm2: inner.map(mm2),
  };
}
