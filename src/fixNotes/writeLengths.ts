import { mmToInches } from '../units/lengths.ts';
import type { NoteUnits } from './noteQuantities.ts';

/**
 * A text with its lengths for people who measure in inches: each `0.21 mm`, `300 × 352 mm` or `0.21 ± 0.02 mm` is
 * followed by the same in inches, unless it is already. In mm the text stays as it is.
 */
export function writeLengths(text: string, units: NoteUnits): string {
  if (units === 'mm') return text;
  return text.replace(
    /(?<![\d.])(\d+(?:\.\d+)?)((?:\s*(?:×|±|to|and|,)\s*\d+(?:\.\d+)?)*)([ \u00a0\u2009])mm\b(?! \([^)]* in\))/gu,
    (whole: string, first: string, more: string) =>
      `${whole} (${inchesOf(first)}${more.replace(/\d+(?:\.\d+)?/gu, inchesOf)} in)`,
  );
}

/** Inches with the decimals the length deserves: thousandths below 10 mm, else hundredths or tenths. */
function inchesOf(mm: string): string {
  const value = Number(mm);
  const decimals = value < 10 ? 3 : value < 100 ? 2 : 1;
  return mmToInches(value).toFixed(decimals);
}
