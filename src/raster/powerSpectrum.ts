import type { SampledPlane } from './squareSamples.ts';

/** Samples along each side of a window. */
export const spectrumSide = 128;
/** Frequencies along the rows that a spectrum tells: 0 … half a window's samples. */
export const spectrumColumns = spectrumSide / 2 + 1;

/**
 * The power spectrum of a square window of samples. Row k of it holds the frequencies of k (k < 64) or k - 128 turns a
 * window down the columns; column k, 0 … 64, those of k turns along the rows. The window is weighted by Hann's cosine
 * both ways, its weighted mean taken off.
 */
export interface PowerSpectrum {
  /** Tones, 0 … 1, column by column. */
  readonly samples: Float32Array;
  /** Row by row, `spectrumColumns` in each. */
  readonly power: Float32Array;
  /** Fills the samples with the tones of squares of `factor` by `factor` pixels, from a pixel on. */
  read(plane: SampledPlane, left: number, top: number, factor: number): void;
  /** Fills `power` from the samples. */
  transform(): void;
  /** Powers summed by rings. @param rings by powers, the ring each lies in, 0 … count - 1 */
  byRing(rings: Uint16Array, count: number): Float64Array;
  /**
   * Indices of the strongest powers that no neighbour exceeds, strongest first, without those of fewer turns a window
   * than asked.
   */
  strongest(most: number, leastTurns: number): Int32Array;
  /**
   * The peak at or next to a place, in turns a window, between the bins by the ratio of its two largest along the row and
   * the column, as Hann's window leaves it; null where none lies there or it would fall on the edge of the spectrum.
   */
  peakNear(column: number, row: number): SpectrumPeak | null;
  /** Power on and next to the multiples of a lattice up to an order, each bin once, and how many bins that are. */
  onLattice(lattice: SpectrumLattice): { readonly power: number; readonly bins: number };
}

export interface SpectrumPeak {
  readonly column: number;
  readonly row: number;
  readonly power: number;
}

/** The multiples (k + il) of a frequency, taken as a complex number: row k · fy + l · fx, in turns a window. */
export interface SpectrumLattice {
  readonly fx: number;
  readonly fy: number;
  /** Turns a window of a frequency of 1 along the rows and down the columns. */
  readonly turnsX: number;
  readonly turnsY: number;
  /** Highest k, and highest l: 0 for lines. */
  readonly order: number;
  readonly across: number;
}
