import { alikeBlocks, mostAround, type TakenTiles } from '../raster/alikeBlocks.ts';
import type { HalftoneTiles } from './halftoneTiles.ts';

/** Changes between black and clear a pixel that dots of the coarsest lattice of a scale have at least, times the scale. */
const leastChanges = 0.02;
/** Tiles of one tint differ no more in their changes. */
const alikeWithin = 2;
/** A block of middle tone comes before others that have so many more tiles like it around them. */
const middleRank = 6;

/** Where to look for a lattice: middle of a block, in pixels. */
export interface Seed {
  readonly column: number;
  readonly row: number;
}

/**
 * Blocks of two by two tiles much alike, those in the broadest areas first; of one rank in an order that jumps about, the
 * same each time.
 * @param factor pixels a sample of the window that will be looked at
 * @param taken looked up once more when the turn of a rank has come
 */
export function* findSeeds(tiles: HalftoneTiles, factor: number, taken: TakenTiles): Generator<Seed> {
  const { perRow, sidePx } = tiles;
  const count = tiles.tones.length;
  const blocks = alikeBlocks(tiles, { leastChanges: leastChanges / factor, within: alikeWithin, middleRank });
  const seedOf = (key: number): Seed => {
    const at = key % count;
    return { column: ((at % perRow) + 1) * sidePx, row: (Math.floor(at / perRow) + 1) * sidePx };
  };
  for (let rank = mostAround + middleRank; rank > 0; rank--) {
    // The first takes all others as often as not: only what it leaves is put in order.
    const first = blocks.leastOf(rank, taken);
    if (first === null) continue;
    yield seedOf(first);
    for (const key of blocks.keysOf(rank, taken).sort()) if (key !== first) yield seedOf(key);
  }
}
