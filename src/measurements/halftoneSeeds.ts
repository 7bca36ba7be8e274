import { type AlikeBlocks, alikeBlocks, mostAround, type TakenTiles } from '../raster/alikeBlocks.ts';
import type { HalftoneTiles } from './halftoneTiles.ts';

/** Changes between black and clear a pixel that dots of the coarsest lattice of a scale have at least, times the scale. */
const leastChanges = 0.02;
/** Tiles of one tint differ no more in their changes. */
const alikeWithin = 2;
/** A block of middle tone comes before others that have so many more tiles like it around them. */
const middleRank = 6;
/** Tiles of a tint differ no more in tone. */
const mostToneSpread = 0.3;

/** Where to look for a lattice: middle of a block, in pixels. */
export interface Seed {
  readonly column: number;
  readonly row: number;
}

/** Blocks of two by two tiles much alike, in two orders; what has been taken meanwhile is left out. */
export class Seeds {
  readonly #tiles: HalftoneTiles;
  readonly #taken: TakenTiles;
  readonly #blocks: AlikeBlocks;

  /**
   * @param factor pixels a sample of the window that will be looked at
   * @param taken looked up once more when the turn of a rank has come
   */
  constructor(tiles: HalftoneTiles, factor: number, taken: TakenTiles) {
    this.#tiles = tiles;
    this.#taken = taken;
    this.#blocks = alikeBlocks(tiles, { leastChanges: leastChanges / factor, within: alikeWithin, middleRank });
  }

  /** Those in the broadest areas first; of one rank in an order that jumps about, the same each time. */
  *broadestFirst(): Generator<Seed> {
    for (let rank = mostAround + middleRank; rank > 0; rank--) {
      // The first takes all others as often as not: only what it leaves is put in order.
      const first = this.#blocks.leastOf(rank, this.#taken);
      if (first === null) continue;
      yield this.#seedOf(first);
      for (const key of this.#blocks.keysOf(rank, this.#taken).sort()) if (key !== first) yield this.#seedOf(key);
    }
  }

  /**
   * Those first that change most often both ways and have nearly one tone, as small islands of a tint do among lines, which
   * change one way, and lettering, whose tone jumps.
   */
  *finestFirst(): Generator<Seed> {
    const found: { key: number; fineness: number }[] = [];
    for (let rank = mostAround + middleRank; rank > 0; rank--) {
      for (const key of this.#blocks.keysOf(rank, this.#taken)) {
        const fineness = this.#finenessOf(key);
        if (fineness > 0) found.push({ key, fineness });
      }
    }
    for (const { key } of found.sort((a, b) => b.fineness - a.fineness || a.key - b.key)) yield this.#seedOf(key);
  }

  #finenessOf(key: number): number {
    const { tones, across, down, perRow } = this.#tiles;
    const at = key % tones.length;
    let [least, most, changes] = [1, 0, 0];
    for (const tile of [at, at + 1, at + perRow, at + perRow + 1]) {
      least = Math.min(least, tones[tile]);
      most = Math.max(most, tones[tile]);
      changes += Math.min(across[tile], down[tile]);
    }
    return changes * (1 - (most - least) / mostToneSpread);
  }

  #seedOf(key: number): Seed {
    const { tones, perRow, sidePx } = this.#tiles;
    const at = key % tones.length;
    return { column: ((at % perRow) + 1) * sidePx, row: (Math.floor(at / perRow) + 1) * sidePx };
  }
}
