import type { BoxMm } from '../geometry/box.ts';
import type { TintMap } from './halftone.ts';
import { type CellMap, placeOfCell } from './halftoneCells.ts';

/** Squares along the longer side. */
const mostSquares = 80;
/** A square is that many cells of a map wide, so that none of them falls between two. */
const cellsPerSquare = 2;
/** Where more cells lie in a square, so many tell enough of it. */
const enoughPerSquare = 8;

/** The tones around the whole cells of a part. @param smoothed by cells of the map, 0 … 1 */
export function tintMapOfCells(map: CellMap, whole: Int32Array, smoothed: Float32Array, boxMm: BoxMm): TintMap {
  const sums = new SquareSums(boxMm, cellsPerSquare * map.cellMm);
  const step = Math.max(1, Math.floor((sums.pitchMm / map.cellMm) ** 2 / enoughPerSquare));
  const first = placeOfCell(map, 0.5, 0.5);
  const next = placeOfCell(map, 1.5, 0.5);
  // The rows of cells stand across the columns.
  const [right, down] = [next.xMm - first.xMm, next.yMm - first.yMm];
  for (let k = 0; k < whole.length; k += step) {
    const column = whole[k] % map.columns;
    const row = (whole[k] - column) / map.columns;
    sums.add(first.xMm + column * right - row * down, first.yMm + column * down + row * right, smoothed[whole[k]]);
  }
  return sums.map();
}

/** Adds up tones by squares of a box. */
export class SquareSums {
  readonly #boxMm: BoxMm;
  readonly pitchMm: number;
  readonly #columns: number;
  readonly #rows: number;
  readonly #tones: Float64Array;
  readonly #counts: Uint32Array;

  constructor(boxMm: BoxMm, leastPitchMm: number) {
    const { widthMm, heightMm } = boxMm;
    this.#boxMm = boxMm;
    this.pitchMm = Math.max(leastPitchMm, Math.max(widthMm, heightMm) / mostSquares);
    this.#columns = Math.max(1, Math.ceil(widthMm / this.pitchMm - 1e-6));
    this.#rows = Math.max(1, Math.ceil(heightMm / this.pitchMm - 1e-6));
    this.#tones = new Float64Array(this.#columns * this.#rows);
    this.#counts = new Uint32Array(this.#columns * this.#rows);
  }

  /** @param tone 0 … 1; of a place just outside the box it counts to the nearest square */
  add(xMm: number, yMm: number, tone: number): void {
    const across = Math.floor((xMm - this.#boxMm.xMm) / this.pitchMm);
    const down = Math.floor((yMm - this.#boxMm.yMm) / this.pitchMm);
    const column = Math.min(this.#columns - 1, Math.max(0, across));
    const square = Math.min(this.#rows - 1, Math.max(0, down)) * this.#columns + column;
    this.#tones[square] += tone;
    this.#counts[square] += 1;
  }

  map(): TintMap {
    const rows = Array.from({ length: this.#rows }, (_, row) => {
      let text = '';
      for (let square = row * this.#columns; square < (row + 1) * this.#columns; square++) {
        const percent = Math.round((100 * this.#tones[square]) / this.#counts[square]);
        text += this.#counts[square] === 0 ? '--' : String(Math.min(99, percent)).padStart(2, '0');
      }
      return text;
    });
    return { xMm: this.#boxMm.xMm, yMm: this.#boxMm.yMm, pitchMm: this.pitchMm, rows };
  }
}
