import type { AlikeBlocks, Likeness, TakenTiles, TilesOfBlocks } from '../alikeBlocks.ts';
import { type Kernels, Layout } from './kernelModule.ts';

/** `AlikeBlocksPlain`; the ranks are kept here, as other kernels work between one call and the next. */
export class AlikeBlocksByKernel implements AlikeBlocks {
  readonly #kernels: Kernels;
  readonly #tiles: TilesOfBlocks;
  readonly #ranks: Uint8Array;
  /** How many blocks there are of each rank. */
  readonly #counts: Uint32Array;

  constructor(kernels: Kernels, tiles: TilesOfBlocks, { leastChanges, within, middleRank }: Likeness) {
    const { perRow, rows, tones, across, down } = tiles;
    const layout = new Layout(kernels);
    const [acrossAt, downAt, tonesAt] = [0, 1, 2].map(() => layout.take(4 * tones.length));
    const ranksAt = layout.take(tones.length);
    const countsAt = layout.take(4 * 256);
    const { buffer } = kernels.memory;
    new Float32Array(buffer, acrossAt, tones.length).set(across);
    new Float32Array(buffer, downAt, tones.length).set(down);
    new Float32Array(buffer, tonesAt, tones.length).set(tones);
    const ranks = new Uint8Array(buffer, ranksAt, tones.length).fill(0);
    const counts = new Uint32Array(buffer, countsAt, 256).fill(0);
    kernels.rankBlocks(acrossAt, downAt, tonesAt, perRow, rows, leastChanges, within, middleRank, ranksAt, countsAt);
    this.#kernels = kernels;
    this.#tiles = tiles;
    this.#ranks = ranks.slice();
    this.#counts = counts.slice();
  }

  keysOf(rank: number, taken: TakenTiles): Float64Array {
    return this.#keys(rank, taken, false);
  }

  leastOf(rank: number, taken: TakenTiles): number | null {
    return this.#keys(rank, taken, true)[0] ?? null;
  }

  #keys(rank: number, { tiles: taken, perRow: takenPerRow, factor }: TakenTiles, onlyLeast: boolean): Float64Array {
    const count = this.#counts[rank];
    if (count === 0) return new Float64Array(0);
    const layout = new Layout(this.#kernels);
    const keysAt = layout.take(8 * count);
    const ranksAt = layout.take(this.#ranks.length);
    const takenAt = layout.take(taken.length);
    const { buffer } = this.#kernels.memory;
    new Uint8Array(buffer, ranksAt, this.#ranks.length).set(this.#ranks);
    new Uint8Array(buffer, takenAt, taken.length).set(taken);
    const found = this.#kernels.blockKeys(
      ranksAt,
      this.#tiles.perRow,
      this.#tiles.rows,
      rank,
      this.#tiles.sidePx,
      takenAt,
      factor,
      takenPerRow,
      taken.length / takenPerRow,
      onlyLeast ? 1 : 0,
      keysAt,
    );
    return new Float64Array(buffer, keysAt, found).slice();
  }
}
