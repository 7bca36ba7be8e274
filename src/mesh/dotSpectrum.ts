import { type DotForm, dotOutline, eachColumn } from './dotForm.ts';

/** Orders of the ruling up to which dots are taken apart, along each axis of their lattice. */
export const highestRulingOrder = 16;

const orders = highestRulingOrder + 1;

/** How strongly a halftone repeats at each order of its ruling, for the worst of several tones. */
export interface DotSpectrum {
  /** Amplitude of order k, l over that of order 0, 0: at most 1. Orders beyond the highest count as none. */
  amplitude(k: number, l: number): number;
  /** The tone of which that is the amplitude, percent. */
  tonePercent(k: number, l: number): number;
}

/**
 * The Fourier transform of a dot on its cell, at the orders of its lattice. Each form is cut into columns and each
 * column transformed exactly; a round dot comes to 2 J1(x) / x.
 */
export function dotSpectrum(form: DotForm, tonePercents: readonly number[], elongation?: number): DotSpectrum {
  const key = `${form} ${elongation} ${tonePercents}`;
  const known = spectra.get(key);
  if (known !== undefined) return known;
  const spectrum = newSpectrum(form, tonePercents, elongation);
  if (spectra.size >= mostSpectra) spectra.clear();
  spectra.set(key, spectrum);
  return spectrum;
}

/** Several checks ask for that of one halftone. */
const spectra = new Map<string, DotSpectrum>();
const mostSpectra = 100;

function newSpectrum(form: DotForm, tonePercents: readonly number[], elongation: number | undefined): DotSpectrum {
  const best = new Float64Array(orders * orders);
  const tones = new Float64Array(orders * orders);
  for (const tonePercent of tonePercents) {
    const own = amplitudesOf(form, tonePercent / 100, elongation);
    for (let index = 0; index < best.length; index++) {
      if (own[index] <= best[index]) continue;
      best[index] = own[index];
      tones[index] = tonePercent;
    }
  }
  const indexOf = (k: number, l: number) => Math.abs(k) * orders + Math.abs(l);
  const isBeyond = (k: number, l: number) => Math.abs(k) >= orders || Math.abs(l) >= orders;
  return {
    amplitude: (k, l) => (isBeyond(k, l) ? 0 : best[indexOf(k, l)]),
    tonePercent: (k, l) => (isBeyond(k, l) ? 0 : tones[indexOf(k, l)]),
  };
}

function amplitudesOf(form: DotForm, tone: number, elongation: number | undefined): Float64Array {
  const sums = new Float64Array(orders * orders);
  const outline = dotOutline(form, tone, elongation);
  const waves = new Float64Array(orders);
  eachColumn(outline, (across, weight) => {
    const reach = outline.reach(across);
    cosines(waves, 2 * Math.PI * across);
    for (let l = 0; l < orders; l++) {
      const up = weight * (l === 0 ? 2 * reach : Math.sin(2 * Math.PI * l * reach) / (Math.PI * l));
      for (let k = 0; k < orders; k++) sums[k * orders + l] += up * waves[k];
    }
  });
  // A line is the same all along: it has no orders along itself.
  if (form === 'line') sums.fill(0, orders);
  const mean = sums[0];
  return sums.map((sum) => Math.abs(sum) / mean);
}

/** cos 0, cos a, cos 2a, … by their recurrence. */
function cosines(into: Float64Array, angle: number): void {
  const step = 2 * Math.cos(angle);
  into[0] = 1;
  into[1] = step / 2;
  for (let k = 2; k < into.length; k++) into[k] = step * into[k - 1] - into[k - 2];
}

/** sin πx / πx. */
export function sinc(x: number): number {
  return x === 0 ? 1 : Math.sin(Math.PI * x) / (Math.PI * x);
}
