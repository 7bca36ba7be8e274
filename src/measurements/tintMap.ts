import type { BoxMm } from '../geometry/box.ts';
import type { TintMap } from './halftone.ts';
import { type CellMap, placeOfCell } from './halftoneCells.ts';
import { fieldReach, type LatticePart } from './halftoneMembers.ts';

/** Squares along the longer side. */
const mostSquares = 80;
/** A square is that many cells of a map wide, so that none of them falls between two. */
const cellsPerSquare = 2;
/** Of a large part rows of cells that lie apart tell enough, where a square is so many cells wide. */
const tellingPerSquare = 2 * fieldReach + 3;

/** The tones around the whole cells of a part. @param smoothed by cells of the map, 0 … 1 */
export function tintMapOfCells(
  map: CellMap,
  { whole, telling }: Pick<LatticePart, 'whole' | 'telling'>,
  smoothed: Float32Array,
  boxMm: BoxMm,
): TintMap {
  const sums = new SquareSums(boxMm, cellsPerSquare * map.cellMm);
  const cells = sums.pitchMm >= tellingPerSquare * map.cellMm ? telling : whole;
  for (let k = 0; k < cells.length; k++) {
    const column = cells[k] % map.columns;
    const { xMm, yMm } = placeOfCell(map, column + 0.5, (cells[k] - column) / map.columns + 0.5);
    sums.add(xMm, yMm, smoothed[cells[k]]);
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
