import { type BitPlane, popcount } from './bitPlane.ts';
import { countEdgesByKernel } from './kernels/countEdgesByKernel.ts';
import { kernels } from './kernels/kernelModule.ts';

/** How often opaque and clear change in each tile, along its rows and along its columns, tiles row by row. */
export interface EdgeCounts {
  readonly across: Uint32Array;
  readonly down: Uint32Array;
}

/**
 * Counts the changes between opaque and clear in tiles of a side that is a multiple of 32 pixels. Along the rows the
 * change from one 32-pixel word to the next is left out: one place in 32, whatever the picture.
 */
export function edgeCounts(plane: BitPlane, sidePx: number): EdgeCounts {
  const loaded = kernels();
  return loaded === null ? countEdgesPlain(plane, sidePx) : countEdgesByKernel(loaded, plane, sidePx);
}

/** `edgeCounts` word by word. */
export function countEdgesPlain({ widthPx, heightPx, wordsPerRow, words }: BitPlane, sidePx: number): EdgeCounts {
  const perRow = Math.ceil(widthPx / sidePx);
  const across = new Uint32Array(perRow * Math.ceil(heightPx / sidePx));
  const down = new Uint32Array(across.length);
  const usedWords = ((widthPx - 1) >> 5) + 1;
  const wordsPerTile = sidePx / 32;
  for (let row = 0; row < heightPx; row++) {
    const tileRow = Math.floor(row / sidePx) * perRow;
    const base = row * wordsPerRow;
    const before = row === 0 ? base : base - wordsPerRow;
    for (let index = 0; index < usedWords; index++) {
      const word = words[base + index];
      const tile = tileRow + Math.floor(index / wordsPerTile);
      across[tile] += popcount((word ^ (word >>> 1)) & 0x7fffffff);
      down[tile] += popcount(word ^ words[before + index]);
    }
  }
  return { across, down };
}
