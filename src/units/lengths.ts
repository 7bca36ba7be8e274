/**
 * Lengths. The only place where a conversion factor between units may stand.
 *
 * Inside the program every length is in millimetres; inches, points and pixels end in the readers.
 * 1 in = 25.4 mm exactly (ISO 31-1, international inch). 1 pt = 1/72 in (ISO 32000-1, 8.3.2.3).
 * 1 px = 1/96 in (CSS Values and Units Level 4, 6.2).
 */
export const mmPerInch = 25.4;
export const mmPerPoint = mmPerInch / 72;
export const mmPerPica = mmPerInch / 6;
export const mmPerCssPixel = mmPerInch / 96;
export const umPerMm = 1000;

export function inchesToMm(inches: number): number {
  return inches * mmPerInch;
}

export function mmToInches(mm: number): number {
  return mm / mmPerInch;
}

export function pointsToMm(points: number): number {
  return points * mmPerPoint;
}

export function mmToPoints(mm: number): number {
  return mm / mmPerPoint;
}

/** Pixel pitch in mm of a resolution in pixels per inch. */
export function pitchMmFromDpi(dpi: number): number {
  return mmPerInch / dpi;
}

/** Resolution in pixels per inch of a pixel pitch in mm. */
export function dpiFromPitchMm(pitchMm: number): number {
  return mmPerInch / pitchMm;
}

/** Threads per centimetre from a count per inch (1 in = 2.54 cm). */
export function threadsPerCmFromPerInch(threadsPerInch: number): number {
  return threadsPerInch / (mmPerInch / 10);
}

/** Threads per inch from a count per centimetre. */
export function threadsPerInchFromPerCm(threadsPerCm: number): number {
  return threadsPerCm * (mmPerInch / 10);
}

/** Halftone ruling in lines per inch from lines per centimetre. */
export function rulingLpiFromPerCm(linesPerCm: number): number {
  return linesPerCm * (mmPerInch / 10);
}

/** Halftone ruling in lines per centimetre from lines per inch. */
export function rulingPerCmFromLpi(linesPerInch: number): number {
  return linesPerInch / (mmPerInch / 10);
}

export const umPerCm = 10_000;
export const mm2PerM2 = 1_000_000;

export const mmPerCm = 10;

export function umToMm(um: number): number {
  return um / umPerMm;
}

/** Distance from thread to thread in µm. */
export function pitchUmFromThreadsPerCm(threadsPerCm: number): number {
  return umPerCm / threadsPerCm;
}
