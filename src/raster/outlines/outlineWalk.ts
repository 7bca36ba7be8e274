import type { BitPlane } from '../bitPlane.ts';
import { tilePx } from '../edgeTiles.ts';

/**
 * A piece of the outline between ink and clear film: the middles of the pixel sides it runs along, in pixels, in
 * order, with the ink on the right-hand side as seen. Closed when its end meets its start.
 */
export interface OutlineSides {
  readonly columns: Float64Array;
  readonly rows: Float64Array;
  readonly count: number;
  readonly closed: boolean;
}

// Sides of an ink pixel in the order they are walked: top, right, bottom, left.
const stepColumns = [1, 0, -1, 0];
const stepRows = [0, 1, 0, -1];
const middleColumns = [0.5, 1, 0.5, 0];
const middleRows = [0, 0.5, 1, 0.5];

/**
 * Every outline of the plane inside the marked tiles (32 × 32 px, `wordsPerRow` a row), each handed to `take` once.
 * Outlines that leave the marked tiles come as open pieces. The arrays are used again: copy what must be kept.
 */
export function walkOutlines(plane: BitPlane, marked: Uint8Array, take: (sides: OutlineSides) => void): void {
  const walk = new OutlineWalk(plane, marked);
  for (let tile = 0; tile < marked.length; tile++) if (marked[tile] !== 0) walk.visitTile(tile, take);
}

class OutlineWalk implements OutlineSides {
  columns = new Float64Array(4096);
  rows = new Float64Array(4096);
  count = 0;
  closed = false;
  private readonly words: Int32Array;
  private readonly widthPx: number;
  private readonly heightPx: number;
  private readonly wordsPerRow: number;
  /** Of every marked tile the place of its 128 words in `walked`, for each row one for each of the four sides; else -1. */
  private readonly slots: Int32Array;
  private readonly walked: Int32Array;

  constructor({ words, widthPx, heightPx, wordsPerRow }: BitPlane, marked: Uint8Array) {
    this.words = new Int32Array(words.buffer, words.byteOffset, words.length);
    this.widthPx = widthPx;
    this.heightPx = heightPx;
    this.wordsPerRow = wordsPerRow;
    this.slots = new Int32Array(marked.length).fill(-1);
    let slotCount = 0;
    for (let tile = 0; tile < marked.length; tile++) if (marked[tile] !== 0) this.slots[tile] = 128 * slotCount++;
    this.walked = new Int32Array(128 * slotCount);
  }

  /** Hands over the outlines that come through a marked tile and have not been walked. */
  visitTile(tile: number, take: (sides: OutlineSides) => void): void {
    const { words, walked, wordsPerRow, heightPx } = this;
    const w = tile % wordsPerRow;
    const top = ((tile - w) / wordsPerRow) * tilePx;
    const bottom = Math.min(heightPx, top + tilePx);
    for (let row = top; row < bottom; row++) {
      const index = row * wordsPerRow + w;
      const word = words[index];
      if (word === 0) continue;
      const above = row > 0 ? words[index - wordsPerRow] : 0;
      const below = row + 1 < heightPx ? words[index + wordsPerRow] : 0;
      const right = (word >>> 1) | (w + 1 < wordsPerRow ? words[index + 1] << 31 : 0);
      const left = (word << 1) | (w > 0 ? words[index - 1] >>> 31 : 0);
      const place = this.slots[tile] + (row & 31) * 4;
      for (let side = 0; side < 4; side++) {
        const beyond = side === 0 ? above : side === 1 ? right : side === 2 ? below : left;
        for (let open = word & ~beyond & ~walked[place + side]; open !== 0; open &= ~walked[place + side]) {
          this.follow(w * 32 + 31 - Math.clz32(open & -open), row, side);
          take(this);
        }
      }
    }
  }

  /** Follows the outline both ways from a pixel side that has not been walked. */
  private follow(column: number, row: number, side: number): void {
    this.count = 0;
    this.closed = this.walk(column, row, side, 1);
    if (this.closed) return;
    this.turnRound();
    // The walk back lists the start anew.
    this.count--;
    this.walk(column, row, side, -1);
    this.turnRound();
  }

  /**
   * Lists the sides from one on, or back with `direction` -1, as far as the marked tiles go; true when that leads back
   * to the start. Ink that only touches at a corner is taken as apart.
   */
  private walk(startColumn: number, startRow: number, startSide: number, direction: 1 | -1): boolean {
    const { slots, walked, wordsPerRow } = this;
    let column = startColumn;
    let row = startRow;
    let side = startSide;
    do {
      const slot = slots[(row >> 5) * wordsPerRow + (column >> 5)];
      if (slot < 0) return false;
      walked[slot + (row & 31) * 4 + side] |= 1 << (column & 31);
      this.list(column + middleColumns[side], row + middleRows[side]);
      const stepColumn = stepColumns[side];
      const stepRow = stepRows[side];
      const nextColumn = column + direction * stepColumn;
      const nextRow = row + direction * stepRow;
      if (!this.hasInk(nextColumn, nextRow)) {
        side = (side + direction) & 3;
      } else if (this.hasInk(nextColumn + stepRow, nextRow - stepColumn)) {
        column = nextColumn + stepRow;
        row = nextRow - stepColumn;
        side = (side - direction) & 3;
      } else {
        column = nextColumn;
        row = nextRow;
      }
    } while (column !== startColumn || row !== startRow || side !== startSide);
    return true;
  }

  private list(column: number, row: number): void {
    if (this.count === this.columns.length) {
      this.columns = doubled(this.columns);
      this.rows = doubled(this.rows);
    }
    this.columns[this.count] = column;
    this.rows[this.count++] = row;
  }

  private hasInk(column: number, row: number): boolean {
    if (column < 0 || row < 0 || column >= this.widthPx || row >= this.heightPx) return false;
    return ((this.words[row * this.wordsPerRow + (column >> 5)] >>> (column & 31)) & 1) === 1;
  }

  private turnRound(): void {
    this.columns.subarray(0, this.count).reverse();
    this.rows.subarray(0, this.count).reverse();
  }
}

function doubled(list: Float64Array<ArrayBuffer>): Float64Array<ArrayBuffer> {
  const longer = new Float64Array(2 * list.length);
  longer.set(list);
  return longer;
}
