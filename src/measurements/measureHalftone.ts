import type { Plate } from '../plates/plate.ts';
import { coarsePitchMm } from '../raster/pixelGrid.ts';
import type { Halftone, HalftoneRegion } from './halftone.ts';
import type { Lattice } from './halftoneLattice.ts';
import { tonesOfMatrix } from './halftoneMatrix.ts';
import { patternBelowLpi } from './halftonePatterns.ts';
import { isSameLattice, regionsOn } from './halftoneRegions.ts';
import {
  growScattered,
  isScattered,
  isTooLargeForMatrix,
  mayBeOrdered,
  scatteredRegion,
  textureSidePx,
} from './halftoneScattered.ts';
import { type Seed, Seeds } from './halftoneSeeds.ts';
import { type Texture, textureAt } from './halftoneTexture.ts';
import { type HalftoneTiles, joinedTiles, layHalftoneTiles, type ToneLevels, toneLevelsOf } from './halftoneTiles.ts';
import { coarsestCellMm, fewestPixels, LatticeWindows, windowSide } from './halftoneWindow.ts';

/** Pixels a sample of the windows looked at grow by this factor; cells of 3 to 20 samples are found in each. */
const scaleStep = 4;
const mostSamplesPerCell = 20;
/** A window may be this much larger than the plate. */
const mostWindowShare = 1.5;
const mostFailures = 20;
/** Where all cells of a scale are so coarse that one tint of them is artwork; finer scales have shown the finest of these. */
const mostFailuresOnPatterns = 5;
/** A lattice that came to nothing so often is not tried again. */
const mostRejections = 2;
/** A tile as wide as that of cells has some of a dot and some clear film, but for the lightest and the darkest tones. */
const leastTileCells = 1.2;
/** Cells around a place where a lattice was found, over which it is made exact first. */
const nearCells = 24;

/**
 * The halftoned parts of a plate. Places much alike in their changes between black and clear are looked at for a lattice,
 * the finest first; each lattice found is made exact and then sought over the whole plate. What has the grain of scattered
 * dots and no lattice is stochastic, or ordered where its pixels repeat.
 */
export function measureHalftone(plate: Plate): Pick<Halftone, 'regions'> {
  const levels = toneLevelsOf(plate);
  const tiles = layHalftoneTiles(plate, levels);
  const search = new Search(plate, tiles, levels);
  const pitchMm = coarsePitchMm(plate.grid);
  for (let scale = 1; ; scale *= scaleStep) {
    search.lookFor(scale);
    if (scale * mostSamplesPerCell * pitchMm >= coarsestCellMm) break;
  }
  search.retakeMatrix();
  return { regions: search.regions.sort((a, b) => b.areaMm2 - a.areaMm2) };
}

class Search {
  regions: HalftoneRegion[] = [];
  readonly #plate: Plate;
  readonly #tiles: HalftoneTiles;
  readonly #levels: ToneLevels;
  readonly #taken: Uint8Array;
  readonly #windows: LatticeWindows;
  readonly #rejected: Lattice[] = [];
  /** Whether scattered dots were seen that may be those of a coarser lattice. */
  #hasWaiting = false;
  /** Tiles by the parts that were taken with them. */
  readonly #tilesOf = new Map<HalftoneRegion, readonly number[]>();

  constructor(plate: Plate, tiles: HalftoneTiles, levels: ToneLevels) {
    this.#plate = plate;
    this.#tiles = tiles;
    this.#levels = levels;
    this.#taken = new Uint8Array(tiles.tones.length);
    this.#windows = new LatticeWindows(plate);
  }

  lookFor(scale: number): void {
    const { grid, sidePx } = this.#tiles;
    const windowPx = windowSide * scale;
    if (scale > 1 && windowPx > mostWindowShare * Math.max(grid.widthPx, grid.heightPx)) return;
    const factor = Math.max(1, Math.round(windowPx / 4 / sidePx));
    const taken = { tiles: this.#taken, perRow: this.#tiles.perRow, factor };
    const seeds = new Seeds(joinedTiles(this.#tiles, factor), scale, taken);
    const lookedAt = new Set<number>();
    this.#lookFrom(seeds.broadestFirst(), scale, lookedAt);
    this.#lookFrom(seeds.finestFirst(), scale, lookedAt);
  }

  /** @param lookedAt places that have been looked at, half a window apart */
  #lookFrom(seeds: Iterable<Seed>, scale: number, lookedAt: Set<number>): void {
    const windowPx = windowSide * scale;
    const isForPatterns = scale * fewestPixels * coarsePitchMm(this.#tiles.grid) >= 25.4 / patternBelowLpi;
    let failuresLeft = isForPatterns ? mostFailuresOnPatterns : mostFailures;
    for (const { column, row } of seeds) {
      if (failuresLeft === 0) break;
      if (this.#isTaken(column, row)) continue;
      const place = Math.floor((2 * row) / windowPx) * 100_000 + Math.floor((2 * column) / windowPx);
      if (lookedAt.has(place)) continue;
      lookedAt.add(place);
      if (!this.#takeFrom(column, row, scale)) failuresLeft--;
    }
  }

  #isTaken(column: number, row: number): boolean {
    const { sidePx, perRow, rows } = this.#tiles;
    const tileColumn = Math.min(perRow - 1, Math.floor(column / sidePx));
    return this.#taken[Math.min(rows - 1, Math.floor(row / sidePx)) * perRow + tileColumn] === 1;
  }

  /** Takes the parts that are screened as the plate is around a pixel; false where that is not screened. */
  #takeFrom(column: number, row: number, scale: number): boolean {
    const tiles = this.#tiles;
    const { grid, sidePx, perRow } = tiles;
    const found = this.#windows.find(column, row, scale);
    if (found === null) {
      if (scale > 1 && !this.#hasWaiting) return false;
      const texture = this.#textureAt(column, row);
      if (!isScattered(texture, coarsePitchMm(this.#tiles.grid))) return false;
      // Large dots may be those of a coarser lattice: they wait until there has turned out to be none.
      const isLarge = isTooLargeForMatrix(texture);
      const isWaiting = scale === 1 && this.#windows.isCoarser && isLarge;
      this.#hasWaiting ||= isWaiting;
      return !isWaiting && (scale === 1 || isLarge) && this.#takeScattered(column, row, texture);
    }
    if (this.#rejected.filter((lattice) => isSameLattice(lattice, found)).length >= mostRejections) return false;
    const cellPx = 1 / (Math.hypot(found.fx, found.fy) * coarsePitchMm(grid));
    const texture = this.#textureAt(column, row);
    if (mayBeOrdered(texture, cellPx) && this.#takeScattered(column, row, texture)) return true;
    const nearPx = Math.ceil(nearCells * cellPx);
    const { regions, tiles: on } = regionsOn(
      this.#plate,
      found,
      tiles,
      (tile) => this.#taken[tile] === 0 && hasDotsNear(tiles, tile, cellPx),
      (tile) => {
        const c = ((tile % perRow) + 0.5) * sidePx - column;
        const r = (Math.floor(tile / perRow) + 0.5) * sidePx - row;
        return Math.abs(c) <= nearPx && Math.abs(r) <= nearPx;
      },
      this.#levels,
      this.#windows,
    );
    this.regions.push(...regions);
    for (const region of regions) this.#tilesOf.set(region, on);
    for (const tile of on) this.#taken[tile] = 1;
    if (this.#isTaken(column, row)) return true;
    this.#rejected.push(found);
    return scale === 1 && this.#takeScattered(column, row, texture);
  }

  /** Takes parts that turn out to be tones of one threshold matrix again, as one; what it does not reach stays as it was. */
  retakeMatrix(): void {
    const tones = tonesOfMatrix(this.regions, coarsePitchMm(this.#plate.grid));
    if (tones.length === 0) return;
    const others = this.regions.filter((region) => !tones.includes(region));
    this.regions = [];
    for (const region of tones) for (const tile of this.#tilesOf.get(region)!) this.#taken[tile] = 0;
    for (const [column, row] of tones.flatMap((region) => this.#placesOf(region))) {
      if (!this.#isTaken(column, row)) this.#takeScattered(column, row, this.#textureAt(column, row));
    }
    const isMatrix = this.regions.some(({ kind }) => kind === 'ordered');
    const isReached = (region: HalftoneRegion) =>
      this.#placesOf(region).some(([column, row]) => this.#isTaken(column, row));
    const stay = isMatrix ? [...this.regions, ...tones.filter((region) => !isReached(region))] : tones;
    this.regions = [...others, ...stay];
  }

  /** Pixels in the middle of the darkest and the lightest places of a part. */
  #placesOf({ darkest, lightest }: HalftoneRegion): [number, number][] {
    const { pitchXMm, pitchYMm } = this.#plate.grid;
    return [...darkest, ...lightest].map(({ boxMm }) => [
      Math.round((boxMm.xMm + boxMm.widthMm / 2) / pitchXMm),
      Math.round((boxMm.yMm + boxMm.heightMm / 2) / pitchYMm),
    ]);
  }

  #textureAt(column: number, row: number): Texture {
    const half = textureSidePx / 2;
    return textureAt(this.#plate, column - half, row - half, textureSidePx, this.#levels);
  }

  #takeScattered(column: number, row: number, texture: Texture): boolean {
    const { grid, sidePx, perRow } = this.#tiles;
    if (!isScattered(texture, coarsePitchMm(grid))) return false;
    const start = Math.floor(row / sidePx) * perRow + Math.floor(column / sidePx);
    const part = growScattered(this.#tiles, start, texture.dotPx, (tile) => this.#taken[tile] === 1);
    const region = scatteredRegion(this.#plate, this.#tiles, part, this.#levels);
    if (region === null) return false;
    this.regions.push(region);
    this.#tilesOf.set(region, [...part]);
    for (const tile of part) this.#taken[tile] = 1;
    return true;
  }
}

/** Whether a tile holds both black and clear, or is so small for the cells that it may lie within a dot or between dots. */
function hasDotsNear(tiles: HalftoneTiles, tile: number, cellPx: number): boolean {
  const { across, down, sidePx, perRow, rows } = tiles;
  if (across[tile] + down[tile] > 0) return true;
  if (sidePx >= leastTileCells * cellPx) return false;
  const reach = Math.ceil(cellPx / sidePx);
  const column = tile % perRow;
  const row = (tile - column) / perRow;
  for (let r = Math.max(0, row - reach); r <= Math.min(rows - 1, row + reach); r++) {
    for (let c = Math.max(0, column - reach); c <= Math.min(perRow - 1, column + reach); c++) {
      if (across[r * perRow + c] + down[r * perRow + c] > 0) return true;
    }
  }
  return false;
}
