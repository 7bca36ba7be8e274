import type { HalftoneTiles } from './halftoneTiles.ts';

/** Changes between black and clear a pixel that dots of the coarsest lattice of a scale have at least, times the scale. */
const leastChanges = 0.02;
/** Tiles of one tint differ no more in their changes. */
const alikeWithin = 2;
/** A block of middle tone comes before others that have so many more tiles like it around them. */
const middleRank = 6;
const mostRank = 16 + middleRank;

/** Where to look for a lattice: middle of a block, in pixels. */
export interface Seed {
  readonly column: number;
  readonly row: number;
}

/**
 * Blocks of two by two tiles much alike, those in the broadest areas first; of one rank in an order that jumps about, the
 * same each time.
 * @param factor pixels a sample of the window that will be looked at
 * @param isTaken asked once more when the turn of a rank has come
 */
export function* findSeeds(
  tiles: HalftoneTiles,
  factor: number,
  isTaken: (column: number, row: number) => boolean,
): Generator<Seed> {
  const { perRow, sidePx } = tiles;
  const ranks = rankBlocks(tiles, factor);
  const seedOf = (at: number): Seed => ({
    column: ((at % perRow) + 1) * sidePx,
    row: (Math.floor(at / perRow) + 1) * sidePx,
  });
  const keyOf = (at: number) => {
    const { column, row } = seedOf(at);
    if (isTaken(column, row)) return -1;
    return ((Math.imul(column, 0x9e3779b1) ^ Math.imul(row, 0x85ebca6b)) >>> 0) * ranks.length + at;
  };
  for (const blocks of byRank(ranks)) {
    // The first takes all others as often as not: only what it leaves is put in order.
    let first = Infinity;
    for (let k = 0; k < blocks.length; k++) {
      const key = keyOf(blocks[k]);
      if (key >= 0 && key < first) first = key;
    }
    if (first === Infinity) continue;
    yield seedOf(first % ranks.length);
    const keys = new Float64Array(blocks.length);
    let length = 0;
    for (let k = 0; k < blocks.length; k++) {
      const key = keyOf(blocks[k]);
      if (key >= 0 && key !== first) keys[length++] = key;
    }
    for (const key of keys.subarray(0, length).sort()) yield seedOf(key % ranks.length);
  }
}

/** The blocks of each rank, the highest first; those of none are left out. */
function byRank(ranks: Uint8Array): Int32Array[] {
  const counts = new Uint32Array(mostRank + 1);
  for (let at = 0; at < ranks.length; at++) counts[ranks[at]]++;
  const blocks = Array.from(counts, (count, rank) => new Int32Array(rank === 0 ? 0 : count));
  counts.fill(0);
  for (let at = 0; at < ranks.length; at++) if (ranks[at] > 0) blocks[ranks[at]][counts[ranks[at]]++] = at;
  return blocks.reverse();
}

/** By the block's first tile, how many tiles around it are like it, more where its tone is a middle one; 0: no block. */
function rankBlocks({ perRow, rows, tones, across, down }: HalftoneTiles, factor: number): Uint8Array {
  const changes = new Float32Array(across.length);
  for (let at = 0; at < changes.length; at++) changes[at] = across[at] + down[at];
  const least = leastChanges / factor;
  const ranks = new Uint8Array(across.length);
  for (let row = 0; row + 1 < rows; row++) {
    for (let column = 0; column + 1 < perRow; column++) {
      const at = row * perRow + column;
      const here = changes[at];
      if (here < least) continue;
      const most = alikeWithin * here;
      const isAlike = (other: number) => other >= least && other <= most && here <= alikeWithin * other;
      if (!isAlike(changes[at + 1]) || !isAlike(changes[at + perRow]) || !isAlike(changes[at + perRow + 1])) continue;
      const tone = (tones[at] + tones[at + 1] + tones[at + perRow] + tones[at + perRow + 1]) / 4;
      let around = 0;
      for (let r = Math.max(0, row - 1); r <= Math.min(rows - 1, row + 2); r++) {
        for (let c = Math.max(0, column - 1); c <= Math.min(perRow - 1, column + 2); c++) {
          if (isAlike(changes[r * perRow + c])) around++;
        }
      }
      ranks[at] = around + (tone > 0.1 && tone < 0.75 ? middleRank : 0);
    }
  }
  return ranks;
}
