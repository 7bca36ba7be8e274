import { differenceCiede2000 } from 'culori';
import { hexToLab, type Lab } from './lab.ts';

const difference = differenceCiede2000();

/**
 * Colour difference CIEDE2000 with unit weights. About 1 is the least a trained eye sees.
 * Source: Sharma, Wu, Dalal, Color Research & Application 30(1), 21–30 (2005).
 */
export function deltaE2000(one: Lab, other: Lab): number {
  return difference({ mode: 'lab65', ...one }, { mode: 'lab65', ...other });
}

/** CIEDE2000 of two sRGB colours written `#rrggbb`. */
export function deltaE2000OfHex(one: string, other: string): number {
  return deltaE2000(hexToLab(one), hexToLab(other));
}
