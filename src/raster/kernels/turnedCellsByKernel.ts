import type { BitPlane } from '../bitPlane.ts';
import type { TurnedCells, TurnedMap, TurnedSamples } from '../turnedCells.ts';
import { type Kernels, Layout } from './kernelModule.ts';

/** `TurnedCellsPlain`, with the strip and the cells in the kernels' memory. */
export class TurnedCellsByKernel implements TurnedCells {
  readonly samples: Float32Array;
  readonly sums: Float32Array;
  readonly #kernels: Kernels;
  readonly #side: number;
  readonly #perRow: number;
  readonly #samplesAt: number;
  readonly #sumsAt: number;
  readonly #turnsAt: number;
  readonly #map: TurnedMap;
  readonly #mapAt: number;
  readonly #band: Uint32Array;

  /** @param turns cosine and -sine of 1024 steps of a turn */
  constructor(
    kernels: Kernels,
    turns: Float32Array,
    sidePx: number,
    perRow: number,
    rows: number,
    cells: number,
    map: TurnedMap,
  ) {
    const layout = new Layout(kernels);
    this.#kernels = kernels;
    this.#side = sidePx;
    this.#perRow = perRow;
    this.#samplesAt = layout.take(4 * perRow * rows);
    this.#sumsAt = layout.take(32 * cells);
    this.#turnsAt = layout.take(4 * turns.length);
    const bandWords = 2 * Math.ceil((perRow * sidePx) / 64) * sidePx;
    const bandAt = layout.take(4 * bandWords);
    this.#map = map;
    this.#mapAt = layout.take(6 * 4 * map.counts.length);
    const { buffer } = kernels.memory;
    this.samples = new Float32Array(buffer, this.#samplesAt, perRow * rows);
    this.sums = new Float32Array(buffer, this.#sumsAt, 8 * cells);
    this.#band = new Uint32Array(buffer, bandAt, bandWords);
    new Float32Array(buffer, this.#turnsAt, turns.length).set(turns);
    this.samples.fill(0);
    this.sums.fill(0);
    new Float32Array(buffer, this.#mapAt, 6 * map.counts.length).fill(0);
  }

  readSquares({ words, wordsPerRow, heightPx }: BitPlane, top: number, rows: number): void {
    const side = this.#side;
    const used = Math.min(wordsPerRow, Math.ceil((this.#perRow * side) / 32));
    for (let row = 0; row < rows && top + (row + 1) * side <= heightPx; row++) {
      const from = (top + row * side) * wordsPerRow;
      this.#band.set(words.subarray(from, from + side * wordsPerRow));
      const target = this.#samplesAt + 4 * row * this.#perRow;
      this.#kernels.squareTones(this.#band.byteOffset, 4 * wordsPerRow, used, side, target);
    }
  }

  add({ first, wide, high, u, v, acrossU, acrossV, downU, downV }: TurnedSamples, columns: number): void {
    this.#kernels.addTurned(
      this.#samplesAt + 4 * first,
      4 * this.#perRow,
      wide,
      high,
      u,
      v,
      acrossU,
      acrossV,
      downU,
      downV,
      columns,
      this.#turnsAt,
      this.#sumsAt,
    );
  }

  addToMap(left: number, top: number, columns: number, rows: number): void {
    const map = this.#map;
    this.#kernels.addToMap(
      this.#sumsAt,
      left,
      top,
      columns,
      rows,
      map.join,
      map.left,
      map.top,
      map.columns,
      this.#mapAt,
      4 * map.counts.length,
    );
  }

  fillMap(): void {
    const { counts, ink, realU, imaginaryU, realV, imaginaryV } = this.#map;
    const { buffer } = this.#kernels.memory;
    for (const [plane, values] of [counts, ink, realU, imaginaryU, realV, imaginaryV].entries()) {
      values.set(new Float32Array(buffer, this.#mapAt + 4 * plane * values.length, values.length));
    }
  }
}
