import { type PowerSpectrum, spectrumColumns, spectrumSide } from '../raster/powerSpectrum.ts';

const side = spectrumSide;
const columns = spectrumColumns;

/** What the bins of a spectrum stand for: a frequency of f turns a mm lies at column f · turnsX, row f · turnsY. */
export interface SpectrumScale {
  /** Width of the window in mm, and its height. */
  readonly turnsX: number;
  readonly turnsY: number;
  /** Turns a mm from bin to bin, in the direction in which that is more. */
  readonly perTurn: number;
}

export function scaleOf(samplePitchXMm: number, samplePitchYMm: number): SpectrumScale {
  const turnsX = side * samplePitchXMm;
  const turnsY = side * samplePitchYMm;
  return { turnsX, turnsY, perTurn: 1 / Math.min(turnsX, turnsY) };
}

export interface Peak {
  readonly fx: number;
  readonly fy: number;
  readonly power: number;
}

/** The strongest peaks of a spectrum, strongest first, without those of fewer turns a window than asked. */
export function findPeaks(spectrum: PowerSpectrum, scale: SpectrumScale, most: number, leastTurns: number): Peak[] {
  const peaks: Peak[] = [];
  for (const at of spectrum.strongest(most, leastTurns)) {
    const column = at % columns;
    const row = (at - column) / columns;
    const turns = row < side / 2 ? row : row - side;
    const peak = refinedPeak(spectrum, scale, column / scale.turnsX, turns / scale.turnsY);
    if (peak !== null) peaks.push(peak);
  }
  return peaks;
}

/**
 * The peak at or next to a frequency, between the bins by the ratio of its two largest along the row and the column, as
 * Hann's window leaves it; null where none lies there or it would fall on the edge of the spectrum.
 */
export function refinedPeak(spectrum: PowerSpectrum, scale: SpectrumScale, fx: number, fy: number): Peak | null {
  const sign = fx < 0 ? -1 : 1;
  const peak = spectrum.peakNear(sign * fx * scale.turnsX, sign * fy * scale.turnsY);
  if (peak === null) return null;
  return { fx: (sign * peak.column) / scale.turnsX, fy: (sign * peak.row) / scale.turnsY, power: peak.power };
}
