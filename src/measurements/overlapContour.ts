import type { BitPlane } from '../raster/bitPlane.ts';
import { tilePx } from './overlapTiles.ts';

/**
 * A piece of the outline between ink and clear film: the middles of the pixel sides it runs along, in pixels, in
 * order, with the ink on the right-hand side as seen. Closed when its end meets its start.
 */
export interface Contour {
  readonly columns: Float64Array;
  readonly rows: Float64Array;
  readonly length: number;
  readonly closed: boolean;
}

// Sides of an ink pixel in the order they are walked: top, right, bottom, left.
const stepColumns = [1, 0, -1, 0];
const stepRows = [0, 1, 0, -1];
const middleColumns = [0.5, 1, 0.5, 0];
const middleRows = [0, 0.5, 1, 0.5];

/**
 * Every outline of the plane inside the marked tiles (32 × 32 px, `wordsPerRow` a row), each handed to `take` once.
 * Outlines that leave the marked tiles come as open pieces. The arrays are reused: copy what must be kept.
 */
export function traceContours(plane: BitPlane, marked: Uint8Array, take: (contour: Contour) => void): void {
  const tracer = new Tracer(plane, marked);
  for (let tile = 0; tile < marked.length; tile++) if (marked[tile] !== 0) tracer.traceFrom(tile, take);
}

class Tracer implements Contour {
  columns = new Float64Array(4096);
  rows = new Float64Array(4096);
  length = 0;
  closed = false;
  private readonly words: Int32Array;
  private readonly widthPx: number;
  private readonly heightPx: number;
  private readonly wordsPerRow: number;
  /** Of every marked tile the place of its 128 words in `walked`: for each row one for each of the four sides. */
  private readonly slots: Int32Array;
  private readonly walked: Int32Array;

  constructor({ words, widthPx, heightPx, wordsPerRow }: BitPlane, marked: Uint8Array) {
    this.words = new Int32Array(words.buffer, words.byteOffset, words.length);
    this.widthPx = widthPx;
    this.heightPx = heightPx;
    this.wordsPerRow = wordsPerRow;
    this.slots = new Int32Array(marked.length).fill(-1);
    let slotCount = 0;
    for (let t = 0; t < marked.length; t++) if (marked[t] !== 0) this.slots[t] = 128 * slotCount++;
    this.walked = new Int32Array(slotCount * 128);
  }

  /** Hands over the outlines that come through a marked tile and have not been walked. */
  traceFrom(tile: number, take: (contour: Contour) => void): void {
    const { words, wordsPerRow, heightPx } = this;
    const w = tile % wordsPerRow;
    const top = ((tile - w) / wordsPerRow) * tilePx;
    const bottom = Math.min(heightPx, top + tilePx);
    for (let row = top; row < bottom; row++) {
      const index = row * wordsPerRow + w;
      const word = words[index];
      const upper = word & ~(row > 0 ? words[index - wordsPerRow] : 0);
      const right = word & ~((word >>> 1) | (w + 1 < wordsPerRow ? words[index + 1] << 31 : 0));
      const lower = word & ~(row + 1 < heightPx ? words[index + wordsPerRow] : 0);
      const left = word & ~((word << 1) | (w > 0 ? words[index - 1] >>> 31 : 0));
      if ((upper | right | lower | left) === 0) continue;
      const place = this.slots[tile] + (row & 31) * 4;
      for (let side = 0; side < 4; side++) {
        const edges = side === 0 ? upper : side === 1 ? right : side === 2 ? lower : left;
        let open = edges & ~this.walked[place + side];
        while (open !== 0) {
          this.follow(w * 32 + 31 - Math.clz32(open & -open), row, side);
          take(this);
          open = edges & ~this.walked[place + side];
        }
      }
    }
  }

  /** Follows the outline both ways from a pixel side that has not been walked. */
  private follow(column: number, row: number, side: number): void {
    this.length = 0;
    this.closed = this.walk(column, row, side, 1);
    if (this.closed) return;
    this.turnRound();
    // The walk back lists the start anew.
    this.length--;
    this.walk(column, row, side, -1);
    this.turnRound();
  }

  /**
   * Lists the sides from one on, or back with `direction` -1, as far as the marked tiles go; true when that leads back to
   * the start. Ink that only touches at a corner is taken as apart.
   */
  private walk(startColumn: number, startRow: number, startSide: number, direction: number): boolean {
    const { words, widthPx, heightPx, wordsPerRow, slots, walked } = this;
    let { columns, rows, length } = this;
    let column = startColumn;
    let row = startRow;
    let side = startSide;
    for (;;) {
      const slot = slots[(row >> 5) * wordsPerRow + (column >> 5)];
      if (slot < 0) break;
      walked[slot + (row & 31) * 4 + side] |= 1 << (column & 31);
      if (length === columns.length) {
        columns = grown(columns);
        rows = grown(rows);
      }
      columns[length] = column + middleColumns[side];
      rows[length] = row + middleRows[side];
      length++;
      const stepColumn = stepColumns[side];
      const stepRow = stepRows[side];
      const nextColumn = column + direction * stepColumn;
      const nextRow = row + direction * stepRow;
      if (!hasInk(words, wordsPerRow, widthPx, heightPx, nextColumn, nextRow)) {
        side = (side + direction) & 3;
      } else if (hasInk(words, wordsPerRow, widthPx, heightPx, nextColumn + stepRow, nextRow - stepColumn)) {
        column = nextColumn + stepRow;
        row = nextRow - stepColumn;
        side = (side - direction) & 3;
      } else {
        column = nextColumn;
        row = nextRow;
      }
      if (column === startColumn && row === startRow && side === startSide) break;
    }
    this.columns = columns;
    this.rows = rows;
    this.length = length;
    return column === startColumn && row === startRow && side === startSide;
  }

  private turnRound(): void {
    this.columns.subarray(0, this.length).reverse();
    this.rows.subarray(0, this.length).reverse();
  }
}

function hasInk(
  words: Int32Array,
  wordsPerRow: number,
  widthPx: number,
  heightPx: number,
  column: number,
  row: number,
): boolean {
  if (column < 0 || row < 0 || column >= widthPx || row >= heightPx) return false;
  return ((words[row * wordsPerRow + (column >> 5)] >>> (column & 31)) & 1) === 1;
}

function grown(array: Float64Array<ArrayBuffer>): Float64Array<ArrayBuffer> {
  const larger = new Float64Array(2 * array.length);
  larger.set(array);
  return larger;
}
