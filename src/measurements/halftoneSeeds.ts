import type { HalftoneTiles } from './halftoneTiles.ts';

/** Changes between black and clear a pixel that dots of the coarsest lattice of a scale have at least, times the scale. */
const leastChanges = 0.02;
/** Tiles of one tint differ no more in their changes. */
const alikeWithin = 2;

/** Where to look for a lattice: blocks of two by two tiles much alike, those in the broadest areas first. */
export interface Seed {
  /** Middle of the block, in pixels. */
  readonly column: number;
  readonly row: number;
  readonly tone: number;
}

/** @param factor pixels a sample of the window that will be looked at */
export function findSeeds(
  tiles: HalftoneTiles,
  factor: number,
  isTaken: (column: number, row: number) => boolean,
): Seed[] {
  const { perRow, rows, sidePx, tones, across, down } = tiles;
  const changes = across.map((value, index) => value + down[index]);
  const least = leastChanges / factor;
  const alike = (a: number, b: number) => a >= least && b >= least && a <= alikeWithin * b && b <= alikeWithin * a;
  const found: (Seed & { readonly rank: number })[] = [];
  for (let row = 0; row + 1 < rows; row++) {
    for (let column = 0; column + 1 < perRow; column++) {
      const at = row * perRow + column;
      const here = changes[at];
      if (!alike(here, changes[at + 1]) || !alike(here, changes[at + perRow]) || !alike(here, changes[at + perRow + 1]))
        continue;
      if (isTaken((column + 1) * sidePx, (row + 1) * sidePx)) continue;
      const tone = (tones[at] + tones[at + 1] + tones[at + perRow] + tones[at + perRow + 1]) / 4;
      let around = 0;
      for (let r = Math.max(0, row - 1); r <= Math.min(rows - 1, row + 2); r++) {
        for (let c = Math.max(0, column - 1); c <= Math.min(perRow - 1, column + 2); c++) {
          if (alike(here, changes[r * perRow + c])) around++;
        }
      }
      const isMiddle = tone > 0.1 && tone < 0.75;
      found.push({ column: (column + 1) * sidePx, row: (row + 1) * sidePx, tone, rank: around + (isMiddle ? 6 : 0) });
    }
  }
  // Places of one rank in an order that jumps about, the same each time.
  const shuffled = (seed: Seed) => (Math.imul(seed.column, 0x9e3779b1) ^ Math.imul(seed.row, 0x85ebca6b)) >>> 0;
  return found.sort((a, b) => b.rank - a.rank || shuffled(a) - shuffled(b));
}
