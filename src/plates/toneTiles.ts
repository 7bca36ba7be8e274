import type { BitPlane } from '../raster/bitPlane.ts';
import type { TonePlane } from '../raster/tonePlane.ts';
import { tileSidePx } from '../raster/tonePlane.ts';

const tilesPerBlock = 64;
const tileBytes = tileSidePx * tileSidePx;

/** Hands out empty tiles in shared memory, many to an allocation. */
export class TilePool {
  #block: Uint8Array | null = null;
  #used = 0;

  take(): Uint8Array {
    if (this.#block === null || this.#used === tilesPerBlock) {
      this.#block = new Uint8Array(new SharedArrayBuffer(tilesPerBlock * tileBytes));
      this.#used = 0;
    }
    const from = this.#used * tileBytes;
    this.#used++;
    return this.#block.subarray(from, from + tileBytes);
  }
}

/** Fills a tile with the tones 0 and 255 of the bits it covers. */
export function fillTileFromBits(tile: Uint8Array, bits: BitPlane, index: number, tilesPerRow: number): Uint8Array {
  const top = Math.floor(index / tilesPerRow) * tileSidePx;
  const left = (index % tilesPerRow) * tileSidePx;
  const rows = Math.min(tileSidePx, bits.heightPx - top);
  const columns = Math.min(tileSidePx, bits.widthPx - left);
  for (let row = 0; row < rows; row++) {
    const from = (top + row) * bits.wordsPerRow;
    for (let column = left; column < left + columns; column++) {
      if ((bits.words[from + (column >> 5)] >>> (column & 31)) & 1) tile[row * tileSidePx + column - left] = 255;
    }
  }
  return tile;
}

/** The tones of a plane that has only clear and opaque pixels. */
export function tonesOfBits(bits: BitPlane): TonePlane {
  const tilesPerRow = Math.ceil(bits.widthPx / tileSidePx);
  const tileRows = Math.ceil(bits.heightPx / tileSidePx);
  const pool = new TilePool();
  const tiles = new Map<number, Uint8Array>();
  for (let index = 0; index < tilesPerRow * tileRows; index++) {
    tiles.set(index, fillTileFromBits(pool.take(), bits, index, tilesPerRow));
  }
  return {
    widthPx: bits.widthPx,
    heightPx: bits.heightPx,
    tilesPerRow,
    tileRows,
    flatTones: new Int16Array(tilesPerRow * tileRows).fill(-1),
    tiles,
  };
}
