import type { BitPlane } from './bitPlane.ts';
import { countPlain } from './cellCounts.ts';
import { countEdgesPlain } from './edgeCounts.ts';
import { kernels } from './kernels/kernelModule.ts';
import { joinTilesByKernel, tileSharesByKernel } from './kernels/tileSharesByKernel.ts';

/** What square tiles of a plane hold, row by row; those at the right and lower edges may reach beyond it. */
export interface TileShares {
  /** Share of opaque pixels, 0 … 1. */
  readonly tones: Float32Array;
  /** Changes between opaque and clear, a pixel, along the rows and down the columns. */
  readonly across: Float32Array;
  readonly down: Float32Array;
}

/** @param sidePx a multiple of 32 */
export function tileShares(plane: BitPlane, sidePx: number): TileShares {
  const loaded = kernels();
  return loaded === null ? tileSharesPlain(plane, sidePx) : tileSharesByKernel(loaded, plane, sidePx);
}

/** `tileShares` word by word. */
export function tileSharesPlain(plane: BitPlane, sidePx: number): TileShares {
  const pixels = sidePx * sidePx;
  const { across, down } = countEdgesPlain(plane, sidePx);
  const shares = (counts: Uint32Array, share: number) => Float32Array.from(counts, (count) => count * share);
  return {
    tones: shares(countPlain(plane, sidePx), 1 / pixels),
    // One place in 32 along the rows is not counted.
    across: shares(across, 32 / 31 / pixels),
    down: shares(down, 1 / pixels),
  };
}

/** Means of tiles, so many a row, joined `factor` by `factor`; those beyond the edges count as 0. */
export function joinTiles(values: Float32Array, perRow: number, factor: number): Float32Array {
  const loaded = kernels();
  return loaded === null ? joinTilesPlain(values, perRow, factor) : joinTilesByKernel(loaded, values, perRow, factor);
}

/** `joinTiles` tile by tile. */
export function joinTilesPlain(values: Float32Array, perRow: number, factor: number): Float32Array {
  const rows = values.length / perRow;
  const joinedPerRow = Math.ceil(perRow / factor);
  const sums = new Float64Array(joinedPerRow * Math.ceil(rows / factor));
  for (let at = 0; at < values.length; at++) {
    const row = Math.floor(at / perRow);
    sums[Math.floor(row / factor) * joinedPerRow + Math.floor((at % perRow) / factor)] += values[at];
  }
  return Float32Array.from(sums, (sum) => sum / (factor * factor));
}
