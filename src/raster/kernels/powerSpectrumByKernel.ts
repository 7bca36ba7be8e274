import type { BitPlane } from '../bitPlane.ts';
import {
  type PowerSpectrum,
  type SpectrumLattice,
  type SpectrumPeak,
  spectrumColumns,
  spectrumSide,
} from '../powerSpectrum.ts';
import { spectrumWeights } from '../powerSpectrumPlain.ts';
import { readSquares, rowsOfSquare, type SampledPlane } from '../squareSamples.ts';
import { type Kernels, Layout } from './kernelModule.ts';

const side = spectrumSide;
const bins = side * spectrumColumns;
const mostPeaks = 64;
const mostRings = 1024;
/** Words of whole rows copied at once. */
const mostBandWords = 1 << 16;

/** Cosine and -sine of the steps of a turn. */
const turns = Float32Array.from({ length: 2 * side }, (_, k) => {
  const angle = (2 * Math.PI * (k >> 1)) / side;
  return (k & 1) === 0 ? Math.cos(angle) : -Math.sin(angle);
});

/** `PowerSpectrumPlain`, samples and powers in the memory of kernels of its own. */
export class PowerSpectrumByKernel implements PowerSpectrum {
  samples: Float32Array;
  power: Float32Array;
  readonly #kernels: Kernels;
  readonly #samplesAt: number;
  readonly #powerAt: number;
  readonly #weightsAt: number;
  readonly #turnsAt: number;
  readonly #scratchAt: number;
  readonly #ringsAt: number;
  readonly #ringSumsAt: number;
  readonly #peaksAt: number;
  readonly #stampsAt: number;
  readonly #bandAt: number;
  /** What the kernels answer besides. */
  #numbers: Float64Array;
  #rings: Uint16Array | null = null;

  constructor(kernels: Kernels) {
    const layout = new Layout(kernels);
    this.#kernels = kernels;
    this.#samplesAt = layout.take(4 * side * side);
    this.#powerAt = layout.take(4 * bins);
    this.#weightsAt = layout.take(4 * side);
    this.#turnsAt = layout.take(4 * turns.length);
    this.#scratchAt = layout.take(kernels.spectrumScratchBytes());
    this.#ringsAt = layout.take(2 * bins);
    this.#ringSumsAt = layout.take(8 * mostRings);
    this.#peaksAt = layout.take(4 * mostPeaks);
    this.#stampsAt = layout.take(4 * bins);
    this.#bandAt = layout.take(0);
    const { buffer } = kernels.memory;
    new Float32Array(buffer, this.#weightsAt, side).set(spectrumWeights);
    new Float32Array(buffer, this.#turnsAt, turns.length).set(turns);
    new Int32Array(buffer, this.#stampsAt, bins).fill(0);
    this.samples = new Float32Array(buffer, this.#samplesAt, side * side);
    this.power = new Float32Array(buffer, this.#powerAt, bins);
    this.#numbers = new Float64Array(buffer, this.#ringSumsAt, 3);
  }

  read(plane: SampledPlane, left: number, top: number, factor: number): void {
    if (plane.tone === null) this.#readBits(plane.bits, left, top, factor);
    else readSquares(plane, left, top, factor, side, this.samples);
  }

  #readBits({ words, wordsPerRow, heightPx }: BitPlane, left: number, top: number, factor: number): void {
    const { rowStep, rows } = rowsOfSquare(factor);
    const firstWord = left >> 5;
    const bandWords = Math.ceil(((left & 31) + side * factor) / 32);
    const from = Math.max(0, firstWord);
    const to = Math.min(wordsPerRow, firstWord + bandWords);
    const band = this.#band(rows * bandWords);
    // Beyond the plane all is clear.
    if (from > firstWord || to < firstWord + bandWords) band.fill(0);
    const share = 1 / (factor * rows);
    if (
      rowStep === 1 &&
      from === firstWord &&
      to === firstWord + bandWords &&
      top >= 0 &&
      top + side * factor <= heightPx
    ) {
      this.#readWholeRows(words, wordsPerRow, left, top, factor);
      return;
    }
    for (let row = 0; row < side; row++) {
      let read = 0;
      for (let r = top + row * factor; r < Math.min(heightPx, top + (row + 1) * factor); r += rowStep) {
        if (r < 0 || from >= to) continue;
        band.set(words.subarray(r * wordsPerRow + from, r * wordsPerRow + to), read * bandWords + from - firstWord);
        read++;
      }
      const target = this.#samplesAt + 4 * row;
      this.#kernels.squareShares(this.#bandAt, 4 * bandWords, read, left & 31, factor, share, target, 1);
    }
  }

  /** Reads squares that lie on the plane from whole rows of it, as one long copy takes less than many short ones. */
  #readWholeRows(words: Uint32Array, wordsPerRow: number, left: number, top: number, factor: number): void {
    const atOnce = Math.min(side, Math.ceil(mostBandWords / (factor * wordsPerRow)));
    for (let row = 0; row < side; row += atOnce) {
      const count = Math.min(atOnce, side - row);
      const first = (top + row * factor) * wordsPerRow;
      const last = first + count * factor * wordsPerRow;
      this.#band(last - first).set(words.subarray(first, last));
      const target = this.#samplesAt + 4 * row;
      const share = 1 / (factor * factor);
      this.#kernels.squareShares(this.#bandAt, 4 * wordsPerRow, factor, left, factor, share, target, count);
    }
  }

  /** So many words behind everything else, and room to read a little beyond them. */
  #band(words: number): Uint32Array {
    const { memory } = this.#kernels;
    const missing = this.#bandAt + 4 * words + 16 - memory.buffer.byteLength;
    if (missing > 0) {
      memory.grow(Math.ceil(missing / 65536));
      this.samples = new Float32Array(memory.buffer, this.#samplesAt, side * side);
      this.power = new Float32Array(memory.buffer, this.#powerAt, bins);
      this.#numbers = new Float64Array(memory.buffer, this.#ringSumsAt, 3);
    }
    return new Uint32Array(memory.buffer, this.#bandAt, words);
  }

  transform(): void {
    this.#kernels.windowPower(this.#samplesAt, this.#weightsAt, this.#turnsAt, this.#scratchAt, this.#powerAt);
  }

  byRing(rings: Uint16Array, count: number): Float64Array {
    const { buffer } = this.#kernels.memory;
    if (rings !== this.#rings) new Uint16Array(buffer, this.#ringsAt, bins).set(rings);
    this.#rings = rings;
    const sums = new Float64Array(buffer, this.#ringSumsAt, count).fill(0);
    this.#kernels.ringPower(this.#powerAt, this.#ringsAt, this.#ringSumsAt);
    return sums.slice();
  }

  strongest(most: number, leastTurns: number): Int32Array {
    const count = this.#kernels.strongestPeaks(this.#powerAt, most, leastTurns, this.#peaksAt);
    return new Int32Array(this.#kernels.memory.buffer, this.#peaksAt, count).slice();
  }

  peakNear(column: number, row: number): SpectrumPeak | null {
    if (this.#kernels.peakNear(this.#powerAt, column, row, this.#ringSumsAt) === 0) return null;
    const found = this.#numbers;
    return { column: found[0], row: found[1], power: found[2] };
  }

  onLattice({ fx, fy, turnsX, turnsY, order, across }: SpectrumLattice): { power: number; bins: number } {
    const found = this.#kernels.latticePower(
      this.#powerAt,
      fx,
      fy,
      turnsX,
      turnsY,
      order,
      across,
      this.#stampsAt,
      this.#ringSumsAt,
    );
    return { power: this.#numbers[0], bins: found };
  }
}
