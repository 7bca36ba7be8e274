import type { BitPlane } from '../raster/bitPlane.ts';
import { edgeCounts } from '../raster/edgeCounts.ts';
import type { Tiles } from './detailTiles.ts';

/** How often opaque and clear change in a tile, a millimetre of its rows or columns. */
export interface TileEdges {
  /** Along the rows and along the columns together. */
  readonly perMm: Float64Array;
  /** In that direction of the two with fewer. */
  readonly leastPerMm: Float64Array;
}

export function countTileEdges(plane: BitPlane, tiles: Tiles): TileEdges {
  const { sidePx, grid } = tiles;
  const { across, down } = edgeCounts(plane, sidePx);
  const pixels = sidePx * sidePx;
  const acrossPerMm = Float64Array.from(across, (count) => count / (pixels * grid.pitchXMm));
  const downPerMm = Float64Array.from(down, (count) => count / (pixels * grid.pitchYMm));
  return {
    perMm: acrossPerMm.map((value, index) => value + downPerMm[index]),
    leastPerMm: acrossPerMm.map((value, index) => Math.min(value, downPerMm[index])),
  };
}
