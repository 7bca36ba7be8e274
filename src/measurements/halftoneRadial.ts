import { type PowerSpectrum, spectrumColumns, spectrumSide } from '../raster/powerSpectrum.ts';
import type { SpectrumScale } from './halftonePeaks.ts';

/** Slower changes, turns a window, are tone. */
export const slowTurns = 2.5;

/** The rings, as wide as a turn a window, in which the powers of a spectrum lie. */
interface Rings {
  /** Of samples as much wider than high. */
  readonly stretch: number;
  readonly count: number;
  /** By powers; those of slow changes lie in one more ring behind all others. */
  readonly ringOf: Uint16Array;
  /** How many powers lie in a ring and beyond. */
  readonly binsBeyond: Float64Array;
}

let known: Rings | null = null;

function ringsFor({ turnsX, turnsY }: SpectrumScale): Rings {
  const stretch = turnsX / turnsY;
  if (known?.stretch === stretch) return known;
  const [ringX, ringY] = [Math.min(1, 1 / stretch), Math.min(1, stretch)];
  const count = Math.ceil(Math.hypot(spectrumColumns * ringX, (spectrumSide / 2) * ringY)) + 2;
  const ringOf = new Uint16Array(spectrumSide * spectrumColumns);
  const binsBeyond = new Float64Array(count);
  for (let row = 0; row < spectrumSide; row++) {
    const down = ((row < spectrumSide / 2 ? row : row - spectrumSide) * ringY) ** 2;
    for (let column = 0; column < spectrumColumns; column++) {
      const ring = Math.round(Math.sqrt(down + (column * ringX) ** 2));
      const isSlow = ring < slowTurns;
      ringOf[row * spectrumColumns + column] = isSlow ? count : ring;
      if (!isSlow) binsBeyond[ring]++;
    }
  }
  addUp(binsBeyond);
  known = { stretch, count, ringOf, binsBeyond };
  return known;
}

function addUp(values: Float64Array): void {
  for (let ring = values.length - 2; ring >= 0; ring--) values[ring] += values[ring + 1];
}

/** Power beyond a frequency. */
export class RadialPower {
  /** All but that of slow changes. */
  readonly all: number;
  readonly #perTurn: number;
  readonly #power: Float64Array;
  readonly #bins: Float64Array;

  constructor(spectrum: PowerSpectrum, scale: SpectrumScale) {
    const { count, ringOf, binsBeyond } = ringsFor(scale);
    this.#power = spectrum.byRing(ringOf, count + 1).subarray(0, count);
    addUp(this.#power);
    this.#bins = binsBeyond;
    this.#perTurn = scale.perTurn;
    this.all = this.#power[0];
  }

  beyond(frequency: number): { power: number; bins: number } {
    const ring = Math.min(this.#power.length - 1, Math.ceil(frequency / this.#perTurn));
    return { power: this.#power[ring], bins: this.#bins[ring] };
  }
}
