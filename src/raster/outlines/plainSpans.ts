import { type BitPlane, popcount } from '../bitPlane.ts';
import type { SpanCounts } from '../planePair.ts';

/** Number of pixels opaque in both of two planes of one size. */
export function sharedPixels(own: BitPlane, other: BitPlane): number {
  let count = 0;
  for (let at = 0; at < own.words.length; at++) {
    const both = own.words[at] & other.words[at];
    if (both !== 0) count += popcount(both);
  }
  return count;
}

/** Counts what two planes of one size have in parts of rows, and the sides of the first's pixels in marked tiles. */
export class PlainSpans implements SpanCounts {
  shared = 0;
  levelSides = 0;
  uprightSides = 0;
  private readonly own: BitPlane;
  private readonly other: BitPlane;
  private readonly tiles: Uint8Array;

  constructor(own: BitPlane, other: BitPlane, tiles: Uint8Array) {
    this.own = own;
    this.other = other;
    this.tiles = tiles;
  }

  /** Adds a row from a column to before another. */
  add(row: number, from: number, end: number): void {
    const { words, wordsPerRow } = this.own;
    for (let w = from >> 5; w <= (end - 1) >> 5; w++) {
      const at = row * wordsPerRow + w;
      const mask = columnsOfWord(w, from, end);
      this.shared += popcount(words[at] & this.other.words[at] & mask);
      if (this.tiles[(row >> 5) * wordsPerRow + w] === 0) continue;
      const word = words[at];
      const above = row > 0 ? words[at - wordsPerRow] : 0;
      const before = w > 0 ? words[at - 1] >>> 31 : 0;
      this.levelSides += popcount((word ^ above) & mask);
      this.uprightSides += popcount((word ^ ((word << 1) | before)) & mask);
    }
  }
}

/** The bits of a word whose columns lie from `from` to before `end`. */
function columnsOfWord(w: number, from: number, end: number): number {
  const low = Math.max(0, from - 32 * w);
  const high = Math.min(32, end - 32 * w);
  return (high === 32 ? -1 : (1 << high) - 1) & (-1 << low);
}
