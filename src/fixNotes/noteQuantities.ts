import type { Unit } from '../findings/finding.ts';
import { mmToInches, mmToPoints } from '../units/lengths.ts';
import type { NoteWords } from './words/wordsIn.ts';

/** mm; or inch: inches, and points below a tenth of an inch, with the millimetres behind. */
export type NoteUnits = 'mm' | 'inch';

const space = '\u00a0';
/** Below this, inches have too many noughts to be read, and drawing programs speak of points. */
const pointsBelowInches = 0.1;

/** Which way a number that is asked for may be rounded, so that what is asked is enough. */
export type Rounding = 'nearest' | 'up' | 'down';

/** A quantity in the words of a language; lengths as the customer prefers. */
export function quantityIn(
  words: NoteWords,
  units: NoteUnits,
  value: number,
  unit: Unit,
  rounding: Rounding = 'nearest',
): string {
  const say = (amount: number, decimals: number) => words.number(rounded(amount, decimals, rounding), decimals);
  switch (unit) {
    case 'mm':
      return lengthIn(words, units, value, rounding);
    case 'um':
      return lengthIn(words, units, value / 1000, rounding);
    case 'percent':
      return `${say(value, value < 10 ? 1 : 0)}${space}%`;
    case 'deg':
      return `${say(value, 1)}°`;
    case 'pt':
      return `${say(value, 1)}${space}pt`;
    case 'ppi':
    case 'lpi':
      return `${say(value, 0)}${space}${unit}`;
    case 'count':
      return say(value, 0);
    default:
      return say(value, 2);
  }
}

/** A length: `0.21 mm`, or `0.6 pt (0.21 mm)`, or `14.96 in (380.0 mm)`. */
export function lengthIn(
  words: NoteWords,
  units: NoteUnits,
  mm: number,
  rounding: Rounding = 'nearest',
  decimals = mm < 10 ? 2 : 1,
): string {
  const metric = `${words.number(rounded(mm, decimals, rounding), decimals)}${space}mm`;
  if (units === 'mm') return metric;
  const inches = mmToInches(mm);
  const english =
    inches < pointsBelowInches
      ? `${words.number(rounded(mmToPoints(mm), 1, rounding), 1)}${space}pt`
      : `${words.number(rounded(inches, 2, rounding), 2)}${space}in`;
  return `${english} (${metric})`;
}

function rounded(value: number, decimals: number, rounding: Rounding): number {
  const factor = 10 ** decimals;
  // What is a whole number but for the last bits stays that number.
  const scaled = Math.round(value * factor * 1e6) / 1e6;
  const whole = rounding === 'up' ? Math.ceil(scaled) : rounding === 'down' ? Math.floor(scaled) : Math.round(scaled);
  return whole / factor;
}
