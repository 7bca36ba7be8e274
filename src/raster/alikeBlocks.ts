import { AlikeBlocksByKernel } from './kernels/alikeBlocksByKernel.ts';
import { kernels } from './kernels/kernelModule.ts';

/** Square tiles, row by row. */
export interface TilesOfBlocks {
  readonly perRow: number;
  readonly rows: number;
  readonly sidePx: number;
  /** Share of black, 0 … 1. */
  readonly tones: Float32Array;
  /** Changes between black and clear, a pixel, along the rows and along the columns. */
  readonly across: Float32Array;
  readonly down: Float32Array;
}

/** Which tiles are alike: those that change at least so often and differ by no more than a factor. */
export interface Likeness {
  readonly leastChanges: number;
  readonly within: number;
  /** Blocks of middle tone count as if they had so many more tiles like them around. */
  readonly middleRank: number;
}

/** Tiles that have been dealt with, 1, each as broad as 1 / factor of those of the blocks. */
export interface TakenTiles {
  readonly tiles: Uint8Array;
  readonly perRow: number;
  readonly factor: number;
}

/** Highest rank without the middle one. */
export const mostAround = 16;

/**
 * Blocks of two by two tiles that are alike, each known by its first tile. A block's rank says how many tiles in and
 * around it are like its first, 1 … 16, and the middle rank more.
 */
export interface AlikeBlocks {
  /**
   * Keys of the blocks of a rank whose middle lies on no tile that is taken, in no order: one order that jumps about is
   * that of the keys. A key's remainder by how many tiles there are is its tile.
   */
  keysOf(rank: number, taken: TakenTiles): Float64Array;
  /** The least of them, or null. */
  leastOf(rank: number, taken: TakenTiles): number | null;
}

export function alikeBlocks(tiles: TilesOfBlocks, likeness: Likeness): AlikeBlocks {
  const loaded = kernels();
  return loaded === null ? new AlikeBlocksPlain(tiles, likeness) : new AlikeBlocksByKernel(loaded, tiles, likeness);
}

/** `AlikeBlocks` tile by tile. */
export class AlikeBlocksPlain implements AlikeBlocks {
  readonly #tiles: TilesOfBlocks;
  readonly #ranks: Uint8Array;

  constructor(tiles: TilesOfBlocks, { leastChanges, within, middleRank }: Likeness) {
    const { perRow, rows, tones } = tiles;
    const changes = changesOf(tiles);
    this.#tiles = tiles;
    this.#ranks = new Uint8Array(changes.length);
    for (let row = 0; row + 1 < rows; row++) {
      for (let column = 0; column + 1 < perRow; column++) {
        const at = row * perRow + column;
        const block = [at, at + 1, at + perRow, at + perRow + 1];
        const low = Math.max(leastChanges, changes[at] / within);
        const isAlike = (tile: number) => changes[tile] >= low && changes[tile] <= changes[at] * within;
        if (!block.every(isAlike)) continue;
        const tone = block.reduce((sum, tile) => sum + tones[tile], 0) / 4;
        let around = 0;
        for (let r = Math.max(0, row - 1); r <= Math.min(rows - 1, row + 2); r++) {
          for (let c = Math.max(0, column - 1); c <= Math.min(perRow - 1, column + 2); c++) {
            if (isAlike(r * perRow + c)) around++;
          }
        }
        this.#ranks[at] = around + (tone > 0.1 && tone < 0.75 ? middleRank : 0);
      }
    }
  }

  keysOf(rank: number, { tiles: taken, perRow: takenPerRow, factor }: TakenTiles): Float64Array {
    const { perRow, sidePx } = this.#tiles;
    const takenRows = taken.length / takenPerRow;
    const keys: number[] = [];
    for (let at = 0; at < this.#ranks.length; at++) {
      if (this.#ranks[at] !== rank) continue;
      const column = (at % perRow) + 1;
      const row = Math.floor(at / perRow) + 1;
      const middle = Math.min(takenRows - 1, row * factor) * takenPerRow + Math.min(takenPerRow - 1, column * factor);
      if (taken[middle] === 1) continue;
      const hash = Math.imul(column * sidePx, 0x9e3779b1) ^ Math.imul(row * sidePx, 0x85ebca6b);
      keys.push((hash >>> 0) * this.#ranks.length + at);
    }
    return Float64Array.from(keys);
  }

  leastOf(rank: number, taken: TakenTiles): number | null {
    const keys = this.keysOf(rank, taken);
    return keys.length === 0 ? null : keys.sort()[0];
  }
}

/** Changes of each tile both ways. */
export function changesOf({ across, down }: TilesOfBlocks): Float32Array {
  const changes = new Float32Array(across.length);
  for (let at = 0; at < changes.length; at++) changes[at] = across[at] + down[at];
  return changes;
}
