import type { LengthBin, LengthSpread } from './overlap.ts';

/** A reading and the length of boundary it holds for. */
export interface MeasuredLength {
  readonly overlapMm: number;
  readonly lengthMm: number;
}

/** Width of a step of the distribution. */
const stepMm = 0.05;

/** Boundary length in steps of 0.05 mm, smallest reading first, steps without any left out; 0 has its own. */
export function lengthBins(readings: readonly MeasuredLength[]): LengthBin[] {
  const lengths = new Map<number, number>();
  for (const { overlapMm, lengthMm } of readings) {
    // Whole numbers for the steps, halves nowhere, so that 0 itself fits in before the step that begins there.
    const step = overlapMm === 0 ? -0.5 : Math.floor(overlapMm / stepMm);
    lengths.set(step, (lengths.get(step) ?? 0) + lengthMm);
  }
  return [...lengths]
    .sort(([p], [q]) => p - q)
    .map(([step, lengthMm]) =>
      step === -0.5 ? { fromMm: 0, toMm: 0, lengthMm } : { fromMm: step * stepMm, toMm: (step + 1) * stepMm, lengthMm },
    );
}

/** The spread of readings by length; null when there are none. */
export function lengthSpread(readings: readonly MeasuredLength[]): LengthSpread | null {
  if (readings.length === 0) return null;
  const sorted = [...readings].sort((a, b) => a.overlapMm - b.overlapMm);
  const totalMm = totalLengthMm(sorted);
  const upTo = (share: number): number => {
    let walkedMm = 0;
    for (const { overlapMm, lengthMm } of sorted) {
      walkedMm += lengthMm;
      if (walkedMm >= totalMm * share) return overlapMm;
    }
    return sorted[sorted.length - 1].overlapMm;
  };
  return { p5Mm: upTo(0.05), p25Mm: upTo(0.25), medianMm: upTo(0.5), p75Mm: upTo(0.75), p95Mm: upTo(0.95) };
}

export function totalLengthMm(readings: readonly MeasuredLength[]): number {
  let sumMm = 0;
  for (const { lengthMm } of readings) sumMm += lengthMm;
  return sumMm;
}
