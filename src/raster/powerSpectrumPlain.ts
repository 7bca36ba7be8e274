import FFT from 'fft.js';
import {
  type PowerSpectrum,
  type SpectrumLattice,
  type SpectrumPeak,
  spectrumColumns,
  spectrumSide,
} from './powerSpectrum.ts';
import { readSquares, type SampledPlane } from './squareSamples.ts';

const side = spectrumSide;
const columns = spectrumColumns;

/** Hann's cosine over a window. */
export const spectrumWeights = Float32Array.from(
  { length: side },
  (_, k) => 0.5 - 0.5 * Math.cos((2 * Math.PI * (k + 0.5)) / side),
);

/** `PowerSpectrum` in plain numbers. */
export class PowerSpectrumPlain implements PowerSpectrum {
  readonly samples = new Float32Array(side * side);
  readonly power = new Float32Array(side * columns);
  readonly #fft = new FFT(side);
  readonly #rows = new Float64Array(2 * side * columns);
  readonly #line = new Float64Array(2 * side);
  readonly #out = new Float64Array(2 * side);

  read(plane: SampledPlane, left: number, top: number, factor: number): void {
    readSquares(plane, left, top, factor, side, this.samples);
  }

  transform(): void {
    const { samples, power } = this;
    const line = this.#line;
    const out = this.#out;
    const rows = this.#rows;
    const mean = this.#weightedMean();
    for (let row = 0; row < side; row++) {
      for (let k = 0; k < side; k++) {
        line[2 * k] = (samples[k * side + row] - mean) * spectrumWeights[k] * spectrumWeights[row];
        line[2 * k + 1] = 0;
      }
      this.#fft.transform(out, line);
      for (let k = 0; k < 2 * columns; k++) rows[2 * row * columns + k] = out[k];
    }
    for (let column = 0; column < columns; column++) {
      for (let row = 0; row < side; row++) {
        const at = 2 * (row * columns + column);
        line[2 * row] = rows[at];
        line[2 * row + 1] = rows[at + 1];
      }
      this.#fft.transform(out, line);
      for (let row = 0; row < side; row++) power[row * columns + column] = out[2 * row] ** 2 + out[2 * row + 1] ** 2;
    }
  }

  #weightedMean(): number {
    let sum = 0;
    let total = 0;
    for (let at = 0; at < this.samples.length; at++) {
      const weight = spectrumWeights[at % side] * spectrumWeights[Math.floor(at / side)];
      sum += weight * this.samples[at];
      total += weight;
    }
    // As exact as the samples: what is flat all over then leaves nothing.
    return Math.fround(sum / total);
  }

  byRing(rings: Uint16Array, count: number): Float64Array {
    const sums = new Float64Array(count);
    for (let at = 0; at < rings.length; at++) sums[rings[at]] += this.power[at];
    return sums;
  }

  strongest(most: number, leastTurns: number): Int32Array {
    const { power } = this;
    const tops: number[] = [];
    const at = (row: number, column: number) => ((row + side) % side) * columns + column;
    for (let row = -side / 2 + 2; row <= side / 2 - 2; row++) {
      for (let column = row < 0 ? 1 : 0; column < columns - 1; column++) {
        if (row * row + column * column < leastTurns * leastTurns) continue;
        const left = column === 0 ? at(-row, 1) : at(row, column - 1);
        const around = [at(row, column + 1), left, at(row - 1, column), at(row + 1, column)];
        if (around.every((index) => power[index] <= power[at(row, column)])) tops.push(at(row, column));
      }
    }
    return Int32Array.from(tops.sort((a, b) => power[b] - power[a]).slice(0, most));
  }

  peakNear(nearColumn: number, nearRow: number): SpectrumPeak | null {
    const { power } = this;
    let column = Math.floor(nearColumn + 0.5);
    let row = Math.floor(nearRow + 0.5);
    const at = (r: number, c: number) =>
      c < 0 ? power[((-r + side) % side) * columns - c] : power[((r + side) % side) * columns + c];
    for (let step = 0; ; step++) {
      if (column < 0 || column > columns - 3 || Math.abs(row) > side / 2 - 3) return null;
      const here = at(row, column);
      let [bestRow, bestColumn, best] = [row, column, here];
      for (let r = row - 1; r <= row + 1; r++) {
        for (let c = column - 1; c <= column + 1; c++) {
          if (at(r, c) > best) [bestRow, bestColumn, best] = [r, c, at(r, c)];
        }
      }
      if (best === here) break;
      // A peak further off belongs to something else.
      if (step === 1) return null;
      [row, column] = [bestRow, bestColumn];
    }
    const here = at(row, column);
    if (here === 0) return null;
    const between = (before: number, after: number) => {
      const ratio = Math.sqrt(Math.max(before, after) / here);
      return (Math.sign(after - before) * (2 * ratio - 1)) / (ratio + 1);
    };
    return {
      column: column + between(at(row, column - 1), at(row, column + 1)),
      row: row + between(at(row - 1, column), at(row + 1, column)),
      power: here,
    };
  }

  onLattice({ fx, fy, turnsX, turnsY, order, across }: SpectrumLattice): { power: number; bins: number } {
    const bins = new Set<number>();
    for (let k = -order; k <= order; k++) {
      for (let l = -across; l <= across; l++) {
        if (k === 0 && l === 0) continue;
        const x = (k * fx - l * fy) * turnsX;
        const y = (k * fy + l * fx) * turnsY;
        if (x < -1 || x > columns - 2 || Math.abs(y) > side / 2 - 2) continue;
        const column = Math.round(x);
        const row = Math.round(y);
        for (let r = row - 1; r <= row + 1; r++) {
          for (let c = Math.max(0, column - 1); c <= column + 1; c++) bins.add(((r + side) % side) * columns + c);
        }
      }
    }
    let power = 0;
    for (const bin of bins) power += this.power[bin];
    return { power, bins: bins.size };
  }
}
