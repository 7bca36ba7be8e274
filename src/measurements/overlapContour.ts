import type { BitPlane } from '../raster/bitPlane.ts';
import { bitAt } from '../raster/bitPlane.ts';

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

interface Walker {
  column: number;
  row: number;
  side: number;
}

/** Steps to the next pixel side of an outline; ink that only touches at a corner is taken as apart. */
function walkOn(plane: BitPlane, at: Walker): void {
  const column = at.column + stepColumns[at.side];
  const row = at.row + stepRows[at.side];
  if (bitAt(plane, column, row) === 0) {
    at.side = (at.side + 1) & 3;
    return;
  }
  const leftColumn = column + stepRows[at.side];
  const leftRow = row - stepColumns[at.side];
  if (bitAt(plane, leftColumn, leftRow) === 0) {
    at.column = column;
    at.row = row;
    return;
  }
  at.column = leftColumn;
  at.row = leftRow;
  at.side = (at.side + 3) & 3;
}

/** The reverse of `walkOn`. */
function walkBack(plane: BitPlane, at: Walker): void {
  const column = at.column - stepColumns[at.side];
  const row = at.row - stepRows[at.side];
  if (bitAt(plane, column, row) === 0) {
    at.side = (at.side + 3) & 3;
    return;
  }
  const leftColumn = column + stepRows[at.side];
  const leftRow = row - stepColumns[at.side];
  if (bitAt(plane, leftColumn, leftRow) === 0) {
    at.column = column;
    at.row = row;
    return;
  }
  at.column = leftColumn;
  at.row = leftRow;
  at.side = (at.side + 1) & 3;
}

/**
 * Every outline of the plane inside the marked tiles (32 × 32 px, `wordsPerRow` a row), each handed to `take` once.
 * Outlines that leave the marked tiles come as open pieces. The arrays are reused: copy what must be kept.
 */
export function traceContours(plane: BitPlane, marked: Uint8Array, take: (contour: Contour) => void): void {
  const { words, wordsPerRow, heightPx } = plane;
  const slots = new Int32Array(marked.length).fill(-1);
  let slotCount = 0;
  for (let t = 0; t < marked.length; t++) if (marked[t] !== 0) slots[t] = slotCount++;
  // Per marked tile and row one word for each of the four sides.
  const walked = new Uint32Array(slotCount * 128);
  let columns = new Float64Array(4096);
  let rows = new Float64Array(4096);

  const placeOf = (at: Walker): number => {
    if (at.row < 0 || at.row >= heightPx) return -1;
    const slot = slots[(at.row >> 5) * wordsPerRow + (at.column >> 5)];
    return slot < 0 ? -1 : slot * 128 + (at.row & 31) * 4 + at.side;
  };

  const follow = (column: number, row: number, side: number): void => {
    const at: Walker = { column, row, side };
    let closed = false;
    for (;;) {
      walkBack(plane, at);
      if (at.column === column && at.row === row && at.side === side) {
        closed = true;
        break;
      }
      if (placeOf(at) < 0) {
        walkOn(plane, at);
        break;
      }
    }
    let length = 0;
    for (;;) {
      const place = placeOf(at);
      if (place < 0) break;
      const bit = 1 << (at.column & 31);
      if ((walked[place] & bit) !== 0) break;
      walked[place] |= bit;
      if (length === columns.length) {
        columns = grown(columns);
        rows = grown(rows);
      }
      columns[length] = at.column + middleColumns[at.side];
      rows[length] = at.row + middleRows[at.side];
      length++;
      walkOn(plane, at);
    }
    take({ columns, rows, length, closed });
  };

  for (let tile = 0; tile < marked.length; tile++) {
    if (slots[tile] < 0) continue;
    const w = tile % wordsPerRow;
    const top = ((tile - w) / wordsPerRow) * 32;
    const bottom = Math.min(heightPx, top + 32);
    for (let row = top; row < bottom; row++) {
      const index = row * wordsPerRow + w;
      const word = words[index];
      if (word === 0) continue;
      const above = row > 0 ? words[index - wordsPerRow] : 0;
      const below = row + 1 < heightPx ? words[index + wordsPerRow] : 0;
      const fromLeft = w > 0 ? words[index - 1] >>> 31 : 0;
      const fromRight = w + 1 < wordsPerRow ? words[index + 1] << 31 : 0;
      const place = slots[tile] * 128 + (row & 31) * 4;
      for (let side = 0; side < 4; side++) {
        const beyond =
          side === 0 ? above : side === 1 ? (word >>> 1) | fromRight : side === 2 ? below : (word << 1) | fromLeft;
        let open = word & ~beyond & ~walked[place + side];
        while (open !== 0) {
          const bit = 31 - Math.clz32(open & -open);
          follow(w * 32 + bit, row, side);
          open &= open - 1;
          open &= ~walked[place + side];
        }
      }
    }
  }
}

function grown(array: Float64Array<ArrayBuffer>): Float64Array<ArrayBuffer> {
  const larger = new Float64Array(2 * array.length);
  larger.set(array);
  return larger;
}
