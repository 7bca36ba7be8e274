import type { Plate } from '../plates/plate.ts';
import { cellCounts } from '../raster/cellCounts.ts';
import { edgeCounts } from '../raster/edgeCounts.ts';
import { coarsePitchMm, type PixelGrid } from '../raster/pixelGrid.ts';
import { countToneTiles } from './halftoneToneTiles.ts';

/** Tiles are about this wide, a whole number of words. */
const tileMm = 1.1;

/** What a plate holds by square tiles, row by row; those at the right and lower edges may reach beyond it. */
export interface HalftoneTiles {
  readonly grid: PixelGrid;
  readonly sidePx: number;
  readonly perRow: number;
  readonly rows: number;
  /** Share of black, 0 … 1. */
  readonly tones: Float32Array;
  /** Changes between black and clear, a pixel, along the rows and along the columns. */
  readonly across: Float32Array;
  readonly down: Float32Array;
}

export function layHalftoneTiles(plate: Plate, levels: ToneLevels): HalftoneTiles {
  const { grid } = plate;
  const sidePx = 32 * Math.max(1, Math.round(tileMm / coarsePitchMm(grid) / 32));
  const perRow = Math.ceil(grid.widthPx / sidePx);
  const rows = Math.ceil(grid.heightPx / sidePx);
  if (plate.tone !== null) return { grid, sidePx, perRow, rows, ...countToneTiles(plate.tone, sidePx, levels) };
  const pixels = sidePx * sidePx;
  const { across, down } = edgeCounts(plate.bits, sidePx);
  return {
    grid,
    sidePx,
    perRow,
    rows,
    tones: shares(cellCounts(plate.bits, sidePx), 1 / pixels),
    // One place in 32 along the rows is not counted.
    across: shares(across, 32 / 31 / pixels),
    down: shares(down, 1 / pixels),
  };
}

function shares(counts: Uint32Array, share: number): Float32Array {
  const result = new Float32Array(counts.length);
  for (let at = 0; at < counts.length; at++) result[at] = share * counts[at];
  return result;
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
  const perRow = Math.ceil(tiles.perRow / factor);
  const rows = Math.ceil(tiles.rows / factor);
  const blockOf = Int32Array.from({ length: tiles.perRow }, (_, column) => Math.floor(column / factor));
  const share = 1 / (factor * factor);
  const joined = (values: Float32Array) => {
    const sums = new Float32Array(perRow * rows);
    for (let row = 0, at = 0; row < tiles.rows; row++) {
      const to = Math.floor(row / factor) * perRow;
      for (let column = 0; column < tiles.perRow; column++, at++) sums[to + blockOf[column]] += values[at] * share;
    }
    return sums;
  };
  return {
    grid: tiles.grid,
    sidePx: tiles.sidePx * factor,
    perRow,
    rows,
    tones: joined(tiles.tones),
    across: joined(tiles.across),
    down: joined(tiles.down),
  };
}
