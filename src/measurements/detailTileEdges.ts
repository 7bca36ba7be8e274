import { type BitPlane, popcount } from '../raster/bitPlane.ts';
import type { Tiles } from './detailTiles.ts';

/** How often opaque and clear change in a tile, a millimetre of its rows or columns. */
export interface TileEdges {
  /** Along the rows and along the columns together. */
  readonly perMm: Float64Array;
  /** In that direction of the two with fewer. */
  readonly leastPerMm: Float64Array;
}

export function countTileEdges(plane: BitPlane, tiles: Tiles): TileEdges {
  const { sidePx, perRow, rows, grid } = tiles;
  const across = new Uint32Array(perRow * rows);
  const down = new Uint32Array(perRow * rows);
  const { heightPx, wordsPerRow, words } = plane;
  const usedWords = ((plane.widthPx - 1) >> 5) + 1;
  const wordsPerTile = sidePx / 32;
  for (let row = 0; row < heightPx; row++) {
    const tileRow = Math.floor(row / sidePx) * perRow;
    const base = row * wordsPerRow;
    const before = row === 0 ? base : base - wordsPerRow;
    for (let index = 0; index < usedWords; index++) {
      const word = words[base + index];
      const upper = words[before + index];
      if ((word === 0 || word === 0xffffffff) && word === upper) continue;
      const tile = tileRow + Math.floor(index / wordsPerTile);
      // The change from one word to the next is left out: one place in 32, whatever the picture.
      across[tile] += popcount((word ^ (word >>> 1)) & 0x7fffffff);
      down[tile] += popcount(word ^ upper);
    }
  }
  const pixels = sidePx * sidePx;
  const acrossPerMm = Float64Array.from(across, (count) => count / (pixels * grid.pitchXMm));
  const downPerMm = Float64Array.from(down, (count) => count / (pixels * grid.pitchYMm));
  return {
    perMm: acrossPerMm.map((value, index) => value + downPerMm[index]),
    leastPerMm: acrossPerMm.map((value, index) => Math.min(value, downPerMm[index])),
  };
}
