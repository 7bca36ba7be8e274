import type { Plate } from '../plates/plate.ts';
import { coarsePitchMm, type PixelGrid } from '../raster/pixelGrid.ts';
import { joinTiles, type TileShares, tileShares } from '../raster/tileShares.ts';
import { countToneTiles } from './halftoneToneTiles.ts';

/** Tiles are about this wide, a whole number of words. */
const tileMm = 1.1;

/** What a plate holds by square tiles, row by row; those at the right and lower edges may reach beyond it. */
export interface HalftoneTiles extends TileShares {
  readonly grid: PixelGrid;
  readonly sidePx: number;
  readonly perRow: number;
  readonly rows: number;
}

export function layHalftoneTiles(plate: Plate, levels: ToneLevels): HalftoneTiles {
  const { grid } = plate;
  const sidePx = 32 * Math.max(1, Math.round(tileMm / coarsePitchMm(grid) / 32));
  const perRow = Math.ceil(grid.widthPx / sidePx);
  const rows = Math.ceil(grid.heightPx / sidePx);
  if (plate.tone !== null) return { grid, sidePx, perRow, rows, ...countToneTiles(plate.tone, sidePx, levels) };
  return { grid, sidePx, perRow, rows, ...tileShares(plate.bits, sidePx) };
}

/** The tones that clear film and solid black have on a plate. */
export interface ToneLevels {
  readonly clear: number;
  readonly solid: number;
}

/** Clear film and black of a scan are the most frequent light and dark tones; those of a drawn film are 0 and 255. */
export function toneLevelsOf(plate: Plate): ToneLevels {
  if (plate.tone === null) return { clear: 0, solid: 255 };
  const { toneHistogram } = plate;
  const mode = (from: number, to: number) => {
    let best = from;
    for (let tone = from; tone <= to; tone++) if (toneHistogram[tone] > toneHistogram[best]) best = tone;
    return best;
  };
  const clear = mode(0, 90);
  const solid = mode(165, 255);
  const all = toneHistogram.reduce((sum, count) => sum + count, 0);
  const isPeak = (tone: number) => toneHistogram[tone] > all / 2000;
  return { clear: isPeak(clear) ? clear : 0, solid: isPeak(solid) ? solid : 255 };
}

/** Tiles joined `factor` by `factor`. */
export function joinedTiles(tiles: HalftoneTiles, factor: number): HalftoneTiles {
  if (factor === 1) return tiles;
  const joined = (values: Float32Array) => joinTiles(values, tiles.perRow, factor);
  return {
    grid: tiles.grid,
    sidePx: tiles.sidePx * factor,
    perRow: Math.ceil(tiles.perRow / factor),
    rows: Math.ceil(tiles.rows / factor),
    tones: joined(tiles.tones),
    across: joined(tiles.across),
    down: joined(tiles.down),
  };
}
