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
}

/** @param sidePx of a square: 1, 2, 4, 8, 16 or 32 @param perRow squares: whole words of pixels */
export function turnedCells(sidePx: number, perRow: number, rows: number, cells: number): TurnedCells {
  const loaded = kernels();
  return loaded === null
    ? new TurnedCellsPlain(sidePx, perRow, rows, cells)
    : new TurnedCellsByKernel(loaded, cosineTable, sidePx, perRow, rows, cells);
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

  constructor(sidePx: number, perRow: number, rows: number, cells: number) {
    this.samples = new Float32Array(perRow * rows);
    this.sums = new Float32Array(numbersPerCell * cells);
    this.#side = sidePx;
    this.#perRow = perRow;
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

  add({ first, wide, high, u, v, acrossU, acrossV, downU, downV }: TurnedSamples, columns: number): void {
    const { samples, sums } = this;
    for (let row = 0; row < high; row++) {
      for (let column = 0; column < wide; column++) {
        const tone = samples[first + row * this.#perRow + column];
        const atU = u + row * downU + column * acrossU;
        const atV = v + row * downV + column * acrossV;
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
    }
  }
}
