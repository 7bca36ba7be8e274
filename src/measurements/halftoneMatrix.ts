import type { HalftoneRegion } from './halftone.ts';

const alongPixelsDeg = 0.2;
const mostOff = 0.03;
/** Places of a matrix for each dot it sets: 2, 4, … as powers of two. */
const mostPower = 6;
const fewestLattices = 3;

/**
 * Those of the parts of a plate that are tones of one threshold matrix: each by itself a lattice of dots, along the pixels
 * or their diagonals, but all of one dot size, with twice, four times, … as many places as dots; and scattered or ordered
 * dots of that size among them. Dots of a screen grow with their tone and keep their lattice. None where neither three
 * lattices nor a part that is ordered already bear it out.
 */
export function tonesOfMatrix(regions: readonly HalftoneRegion[], pitchMm: number): HalftoneRegion[] {
  const ruled = regions.filter((part) => part.kind === 'am' && eighthsOf(part) !== null);
  const scattered = regions.filter(({ kind }) => kind === 'ordered' || kind === 'fm');
  const isDot = (part: HalftoneRegion, dotPx: number) => Math.abs(part.dotPitchMm! / pitchMm / dotPx - 1) < mostOff;
  const finest = ruled.reduce((least, { pixelsPerCell }) => Math.min(least, pixelsPerCell!), Infinity);
  // The finest tone is the chequer, along the diagonals, or has one of four places.
  for (const dotPx of [finest / Math.SQRT2, finest / 2]) {
    const tones = ruled.filter((part) => powerOf(part, dotPx) !== null);
    const powers = new Set(tones.map((part) => powerOf(part, dotPx)));
    const alike = scattered.filter((part) => isDot(part, dotPx));
    const isBorneOut = powers.size >= fewestLattices || alike.some(({ kind }) => kind === 'ordered');
    if (isBorneOut && tones.length > 0) return [...tones, ...alike];
  }
  return [];
}

/** Which power of two the places are for each dot of a lattice; null: it is none a matrix of such dots has. */
function powerOf(part: HalftoneRegion, dotPx: number): number | null {
  const power = 2 * Math.log2(part.pixelsPerCell! / dotPx);
  const whole = Math.round(power);
  const isOne = Math.abs(power - whole) < mostOff && whole >= 1 && whole <= mostPower && eighthsOf(part) === whole % 2;
  return isOne ? whole : null;
}

/** Whether a lattice lies along the pixels, 0, or their diagonals, 1; null: along neither. */
function eighthsOf({ angleDeg }: HalftoneRegion): number | null {
  if (angleDeg === null) return null;
  const eighths = Math.round(angleDeg / 45);
  return Math.abs(angleDeg - 45 * eighths) <= alongPixelsDeg ? eighths % 2 : null;
}
