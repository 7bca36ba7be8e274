const tileColumns = 64;
const tileRows = 32;
const wordsPerTile = (tileColumns * tileRows) / 32;

/** One bit a pixel, kept only for the tiles of 64 by 32 pixels where any is set: for lines and other thin things. */
export class SparseBits {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly #tilesPerRow: number;
  /** Where each tile's words begin, or -1. */
  readonly #starts: Int32Array;
  #words = new Int32Array(64 * wordsPerTile);
  #used = 0;

  constructor(widthPx: number, heightPx: number) {
    this.widthPx = widthPx;
    this.heightPx = heightPx;
    this.#tilesPerRow = Math.ceil(widthPx / tileColumns);
    this.#starts = new Int32Array(this.#tilesPerRow * Math.ceil(heightPx / tileRows)).fill(-1);
  }

  /** Sets 32 pixels of a row, word w covering the columns from 32 · w on, the first as the lowest bit. */
  addWord(row: number, word: number, bits: number): void {
    if (bits === 0) return;
    const tile = (row >> 5) * this.#tilesPerRow + (word >> 1);
    if (this.#starts[tile] < 0) this.#starts[tile] = this.#newTile();
    this.#words[this.#starts[tile] + ((row & 31) << 1) + (word & 1)] |= bits;
  }

  at(column: number, row: number): 0 | 1 {
    if (column < 0 || row < 0 || column >= this.widthPx || row >= this.heightPx) return 0;
    const index = this.#indexOf(column, row);
    return index < 0 ? 0 : (((this.#words[index] >>> (column & 31)) & 1) as 0 | 1);
  }

  /** The eight pixels around one on the plane, from the one above, clockwise, the first as the lowest bit. */
  around(column: number, row: number): number {
    const bit = column & 31;
    if (bit === 0 || bit === 31 || row === 0 || row === this.heightPx - 1) return this.#aroundOneByOne(column, row);
    // All eight lie in words of the same 32 columns.
    const above = this.#threeAt(column, row - 1);
    const here = this.#threeAt(column, row);
    const below = this.#threeAt(column, row + 1);
    return (
      ((above >> 1) & 1) |
      ((above >> 1) & 2) |
      (here & 4) |
      ((below & 4) << 1) |
      ((below & 2) << 3) |
      ((below & 1) << 5) |
      ((here & 1) << 6) |
      ((above & 1) << 7)
    );
  }

  #aroundOneByOne(column: number, row: number): number {
    return (
      this.at(column, row - 1) |
      (this.at(column + 1, row - 1) << 1) |
      (this.at(column + 1, row) << 2) |
      (this.at(column + 1, row + 1) << 3) |
      (this.at(column, row + 1) << 4) |
      (this.at(column - 1, row + 1) << 5) |
      (this.at(column - 1, row) << 6) |
      (this.at(column - 1, row - 1) << 7)
    );
  }

  /** A pixel with the one before as the lowest bit and the one after as the highest of three. */
  #threeAt(column: number, row: number): number {
    const index = this.#indexOf(column, row);
    return index < 0 ? 0 : (this.#words[index] >>> ((column & 31) - 1)) & 7;
  }

  clear(column: number, row: number): void {
    const index = this.#indexOf(column, row);
    if (index >= 0) this.#words[index] &= ~(1 << (column & 31));
  }

  /** Tells of every pixel in reading order; those `visit` clears before they come are passed over. */
  eachPixel(visit: (column: number, row: number) => void): void {
    const held: number[] = [];
    for (let row = 0; row < this.heightPx; row++) {
      if ((row & 31) === 0) {
        held.length = 0;
        const first = (row >> 5) * this.#tilesPerRow;
        for (let tile = 0; tile < this.#tilesPerRow; tile++) if (this.#starts[first + tile] >= 0) held.push(tile);
      }
      for (const tile of held) {
        const start = this.#starts[(row >> 5) * this.#tilesPerRow + tile];
        for (let half = 0; half < 2; half++) {
          const index = start + ((row & 31) << 1) + half;
          let done = 0;
          for (let left = this.#words[index]; left !== 0; left = this.#words[index] & ~done) {
            const bit = 31 - Math.clz32(left & -left);
            done |= bit === 31 ? -1 : (2 << bit) - 1;
            visit(tile * tileColumns + half * 32 + bit, row);
          }
        }
      }
    }
  }

  #indexOf(column: number, row: number): number {
    const start = this.#starts[(row >> 5) * this.#tilesPerRow + (column >> 6)];
    return start < 0 ? -1 : start + ((row & 31) << 1) + ((column >> 5) & 1);
  }

  #newTile(): number {
    const start = this.#used;
    this.#used += wordsPerTile;
    if (this.#used > this.#words.length) {
      const larger = new Int32Array(2 * this.#words.length);
      larger.set(this.#words);
      this.#words = larger;
    }
    return start;
  }
}
