import { normaliseInkName } from '../colour/normaliseInkName.ts';
import type { ScreenRole } from './ticket.ts';

/** The part an ink plays by its name alone, where nobody said: `White base` is an underbase, `Highlight white` a highlight. */
export function roleOfInkName(inkName: string): ScreenRole {
  const words = ` ${normaliseInkName(inkName)} `;
  if (/ (?:under ?base|base|base ?plate|ub) /u.test(words)) return 'underbase';
  if (/ (?:high ?light|top white|white top) /u.test(words)) return 'highlight';
  if (/ (?:black|key) /u.test(words)) return 'key';
  return 'colour';
}
