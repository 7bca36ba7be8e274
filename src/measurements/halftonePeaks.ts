import type { PowerSpectrum } from '../raster/powerSpectrum.ts';

/** What the bins of a spectrum stand for: a frequency of f turns a mm lies at column f · turnsX, row f · turnsY. */
export interface SpectrumScale {
  /** Width of the window in mm, and its height. */
  readonly turnsX: number;
  readonly turnsY: number;
  /** Turns a mm from bin to bin, in the direction in which that is more. */
  readonly perTurn: number;
}

export function scaleOf(side: number, samplePitchXMm: number, samplePitchYMm: number): SpectrumScale {
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
  const { side, columns, power } = spectrum;
  const tops: { at: number; power: number }[] = [];
  const at = (row: number, column: number) => power[((row + side) % side) * columns + column];
  for (let row = -side / 2 + 2; row <= side / 2 - 2; row++) {
    const first = ((row + side) % side) * columns;
    for (let column = row < 0 ? 1 : 0; column < columns - 1; column++) {
      const here = power[first + column];
      if (tops.length === most && here <= tops[most - 1].power) continue;
      if (row * row + column * column < leastTurns * leastTurns) continue;
      const left = column === 0 ? at(-row, 1) : at(row, column - 1);
      if (here < at(row, column + 1) || here < left || here < at(row - 1, column) || here < at(row + 1, column))
        continue;
      tops.push({ at: ((row + side) % side) * columns + column, power: here });
      tops.sort((a, b) => b.power - a.power);
      if (tops.length > most) tops.pop();
    }
  }
  return tops.flatMap((top) => {
    const column = top.at % columns;
    const row = (top.at - column) / columns;
    const peak = refinedPeak(
      spectrum,
      scale,
      column / scale.turnsX,
      (row < side / 2 ? row : row - side) / scale.turnsY,
    );
    return peak === null ? [] : [peak];
  });
}

/**
 * The peak at or next to a frequency, between the bins by the ratio of its two largest along the row and the column, as
 * Hann's window leaves it; null where none lies there or it would fall on the edge of the spectrum.
 */
export function refinedPeak(spectrum: PowerSpectrum, scale: SpectrumScale, fx: number, fy: number): Peak | null {
  const { side, columns, power } = spectrum;
  const sign = fx < 0 ? -1 : 1;
  let column = Math.round(sign * fx * scale.turnsX);
  let row = Math.round(sign * fy * scale.turnsY);
  const at = (r: number, c: number) =>
    c < 0 ? power[((-r + side) % side) * columns - c] : power[((r + side) % side) * columns + c];
  for (let step = 0; ; step++) {
    if (column < 0 || column > columns - 3 || Math.abs(row) > side / 2 - 3) return null;
    const here = at(row, column);
    let [bestRow, bestColumn, best] = [row, column, here];
    for (let r = row - 1; r <= row + 1; r++) {
      for (let c = column - 1; c <= column + 1; c++)
        if (at(r, c) > best) [bestRow, bestColumn, best] = [r, c, at(r, c)];
    }
    if (best === here) break;
    // A peak further off belongs to something else.
    if (step === 1) return null;
    [row, column] = [bestRow, bestColumn];
  }
  const between = (before: number, here: number, after: number) => {
    const ratio = Math.sqrt(Math.max(before, after) / here);
    return (Math.sign(after - before) * (2 * ratio - 1)) / (ratio + 1);
  };
  const here = at(row, column);
  if (here === 0) return null;
  const x = (column + between(at(row, column - 1), here, at(row, column + 1))) / scale.turnsX;
  const y = (row + between(at(row - 1, column), here, at(row + 1, column))) / scale.turnsY;
  return { fx: sign * x, fy: sign * y, power: here };
}
