import FFT from 'fft.js';

/**
 * Power spectra of square windows of one size. Row k of a spectrum holds the frequencies of k (k < side/2) or k - side
 * turns a window down the columns; column k, 0 … side/2, those of k turns along the rows. The window is weighted by
 * Hann's cosine both ways, its weighted mean taken off.
 */
export class PowerSpectrum {
  readonly side: number;
  readonly columns: number;
  readonly power: Float64Array;
  readonly weights: Float64Array;
  readonly #fft: FFT;
  readonly #rows: Float64Array;
  readonly #line: Float64Array;
  readonly #out: Float64Array;

  constructor(side: number) {
    this.side = side;
    this.columns = side / 2 + 1;
    this.power = new Float64Array(side * this.columns);
    this.weights = Float64Array.from(
      { length: side },
      (_, k) => 0.5 - 0.5 * Math.cos((2 * Math.PI * (k + 0.5)) / side),
    );
    this.#fft = new FFT(side);
    this.#rows = new Float64Array(2 * side * this.columns);
    this.#line = new Float64Array(2 * side);
    this.#out = new Float64Array(2 * side);
  }

  /** Fills `power` from samples row by row; answers it. */
  of(samples: Float64Array): Float64Array {
    const { side, columns, weights, power } = this;
    const line = this.#line;
    const out = this.#out;
    const rows = this.#rows;
    const mean = this.#weightedMean(samples);
    // Two rows of real numbers go through one transform of complex ones.
    for (let row = 0; row < side; row += 2) {
      const first = row * side;
      for (let k = 0; k < side; k++) {
        line[2 * k] = (samples[first + k] - mean) * weights[k] * weights[row];
        line[2 * k + 1] = (samples[first + side + k] - mean) * weights[k] * weights[row + 1];
      }
      this.#fft.transform(out, line);
      const one = 2 * row * columns;
      const two = one + 2 * columns;
      for (let k = 0; k < columns; k++) {
        const mirror = 2 * ((side - k) % side);
        rows[one + 2 * k] = (out[2 * k] + out[mirror]) / 2;
        rows[one + 2 * k + 1] = (out[2 * k + 1] - out[mirror + 1]) / 2;
        rows[two + 2 * k] = (out[2 * k + 1] + out[mirror + 1]) / 2;
        rows[two + 2 * k + 1] = (out[mirror] - out[2 * k]) / 2;
      }
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
    return power;
  }

  #weightedMean(samples: Float64Array): number {
    const { side, weights } = this;
    let sum = 0;
    let total = 0;
    for (let row = 0; row < side; row++) {
      for (let k = 0; k < side; k++) {
        const weight = weights[row] * weights[k];
        sum += weight * samples[row * side + k];
        total += weight;
      }
    }
    return sum / total;
  }
}
