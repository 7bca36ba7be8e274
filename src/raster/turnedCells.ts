import { type BitPlane, popcount } from './bitPlane.ts';
import { kernels } from './kernels/kernelModule.ts';
import { TurnedCellsByKernel } from './kernels/turnedCellsByKernel.ts';

/** Places along the axes of a lattice are given in cells times this, as whole numbers. */
export const turnedUnit = 2 ** 20;
const turnSteps = 1024;
/** Of `sums`, so many a cell. */
export const numbersPerCell = 8;

/** A rectangle of samples, and where they lie on a lattice turned against them. */
export interface TurnedSamples {
  /** Index of the first in the strip. */
  readonly first: number;
  readonly wide: number;
  readonly high: number;
  /** Along the two axes of the lattice, in `turnedUnit`s of a cell: of the first, and from one to the next. */
  readonly u: number;
  readonly v: number;
  readonly acrossU: number;
  readonly acrossV: number;
  readonly downU: number;
  readonly downV: number;
}

/** A map of a lattice, `join` by `join` of its cells in each of its own, and what they hold. */
export interface TurnedMap {
  readonly join: number;
  /** First column and row of it, counted from where the lattice begins. */
  readonly left: number;
  readonly top: number;
  readonly columns: number;
  readonly rows: number;
  /** How many samples, and their tones added up. */
  readonly counts: Float32Array;
  readonly ink: Float32Array;
  /** Tones times e^(-2πiu), added up, and times e^(-2πiv). */
  readonly realU: Float32Array;
  readonly imaginaryU: Float32Array;
  readonly realV: Float32Array;
  readonly imaginaryV: Float32Array;
}

/** Adds samples of a strip of a plane to the cells of a lattice. Nothing else may use the kernels in between. */
export interface TurnedCells {
  /** Tones, 0 … 1, of the squares of the strip, row by row, `perRow` of them in each. */
  readonly samples: Float32Array;
  /**
   * By cells, row by row: sum of the tones times e^(-2πiu), real and imaginary, and times e^(-2πiv), how many samples,
   * sum of their tones, and two that stay 0.
   */
  readonly sums: Float32Array;
  /** Fills so many rows of the strip with the shares of black of squares of a plane from a pixel row on. */
  readSquares(plane: BitPlane, top: number, rows: number): void;
  /** Adds samples whose places lie in the cells of so many columns, from 0 on. */
  add(samples: TurnedSamples, columns: number): void;
  /** Adds so many columns and rows of cells to the map, and empties them. @param left the first of them, and `top` */
  addToMap(left: number, top: number, columns: number, rows: number): void;
  /** Fills the map with all that was added to it. */
  fillMap(): void;
}

/** @param sidePx of a square: 1, 2, 4, 8, 16 or 32 @param perRow squares: whole words of pixels */
export function turnedCells(sidePx: number, perRow: number, rows: number, cells: number, map: TurnedMap): TurnedCells {
  const loaded = kernels();
  return loaded === null
    ? new TurnedCellsPlain(sidePx, perRow, rows, cells, map)
    : new TurnedCellsByKernel(loaded, cosineTable, sidePx, perRow, rows, cells, map);
}

/** Cosine and -sine of the steps of a turn. */
const cosineTable = Float32Array.from({ length: 2 * turnSteps }, (_, k) => {
  const angle = (2 * Math.PI * (k >> 1)) / turnSteps;
  return (k & 1) === 0 ? Math.cos(angle) : -Math.sin(angle);
});

/** `TurnedCells` sample by sample. */
export class TurnedCellsPlain implements TurnedCells {
  readonly samples: Float32Array;
  readonly sums: Float32Array;
  readonly #side: number;
  readonly #perRow: number;
  readonly #map: TurnedMap;

  constructor(sidePx: number, perRow: number, rows: number, cells: number, map: TurnedMap) {
    this.samples = new Float32Array(perRow * rows);
    this.sums = new Float32Array(numbersPerCell * cells);
    this.#side = sidePx;
    this.#perRow = perRow;
    this.#map = map;
  }

  readSquares({ words, wordsPerRow, heightPx }: BitPlane, top: number, rows: number): void {
    const side = this.#side;
    const perWord = 32 / side;
    const columns = Math.min(this.#perRow, wordsPerRow * perWord);
    for (let row = 0; row < rows && top + (row + 1) * side <= heightPx; row++) {
      for (let column = 0; column < columns; column++) {
        const first = (top + row * side) * wordsPerRow + Math.floor(column / perWord);
        const shift = (column % perWord) * side;
        let count = 0;
        for (let r = 0; r < side; r++) {
          count += popcount((words[first + r * wordsPerRow] >>> shift) & (0xffffffff >>> (32 - side)));
        }
        this.samples[row * this.#perRow + column] = count / (side * side);
      }
    }
  }

  add(samples: TurnedSamples, columns: number): void {
    const half = samples.high >> 1;
    for (let row = 0; row < half; row++) {
      for (let column = 0; column < samples.wide; column++) {
        this.#addSample(samples, row, column, columns);
        this.#addSample(samples, row + half, column, columns);
      }
    }
    if (samples.high % 2 === 0) return;
    for (let column = 0; column < samples.wide; column++) {
      this.#addSample(samples, samples.high - 1, column, columns);
    }
  }

  #addSample(from: TurnedSamples, row: number, column: number, columns: number): void {
    const { sums } = this;
    const tone = this.samples[from.first + row * this.#perRow + column];
    const atU = from.u + row * from.downU + column * from.acrossU;
    const atV = from.v + row * from.downV + column * from.acrossV;
    const cell = numbersPerCell * ((atV >> 20) * columns + (atU >> 20));
    const turnU = 2 * ((atU >> 10) & (turnSteps - 1));
    const turnV = 2 * ((atV >> 10) & (turnSteps - 1));
    sums[cell] += Math.fround(tone * cosineTable[turnU]);
    sums[cell + 1] += Math.fround(tone * cosineTable[turnU + 1]);
    sums[cell + 2] += Math.fround(tone * cosineTable[turnV]);
    sums[cell + 3] += Math.fround(tone * cosineTable[turnV + 1]);
    sums[cell + 4]++;
    sums[cell + 5] += tone;
  }

  addToMap(left: number, top: number, columns: number, rows: number): void {
    const { sums } = this;
    const map = this.#map;
    for (let k = 0; k < columns * rows; k++) {
      const at = numbersPerCell * k;
      if (sums[at + 4] === 0) continue;
      const column = Math.floor((left + (k % columns)) / map.join) - map.left;
      const row = Math.floor((top + Math.floor(k / columns)) / map.join) - map.top;
      const cell = row * map.columns + column;
      map.counts[cell] += sums[at + 4];
      map.ink[cell] += sums[at + 5];
      map.realU[cell] += sums[at];
      map.imaginaryU[cell] += sums[at + 1];
      map.realV[cell] += sums[at + 2];
      map.imaginaryV[cell] += sums[at + 3];
    }
    sums.fill(0, 0, numbersPerCell * columns * rows);
  }

  fillMap(): void {
    // It is full already.
  }
}
