import type { CheckResult, Finding, Limit, Unit } from '../findings/finding.ts';
import type { Entry } from './entry.ts';
import { type FailingSide, failingSideOf, failingSideOfPassed, limitVerb } from './failingSide.ts';
import { counted, decimalsFor, fixed, quantity, readingWords, thinSpace } from './format.ts';

/** A reading and what it is held against, in words. */
export interface ReadingInWords {
  /** `0.21 ± 0.02 mm`, `2 texts`; empty when nothing was measured. */
  readonly reading: string;
  /** `needs 0.31 mm`; empty where there is no limit, or where none of a kind may be there at all. */
  readonly limit: string;
}

const nothing: ReadingInWords = { reading: '', limit: '' };

/** What each check that counts is counting. */
const countNouns: Readonly<Record<string, readonly [one: string, many: string]>> = {
  'extra-ink': ['ink', 'inks'],
  'unnamed-ink': ['ink', 'inks'],
  'unused-ink': ['ink', 'inks'],
  'ink-not-on-ticket': ['ink', 'inks'],
  'ink-missing-from-art': ['ink', 'inks'],
  'unknown-scale': ['film', 'films'],
  'live-type': ['text', 'texts'],
  'hidden-object': ['object', 'objects'],
  'mirrored-film': ['film', 'films'],
  'overprint-hazard': ['object', 'objects'],
  'white-overprint': ['object', 'objects'],
  'missing-registration-mark': ['mark', 'marks'],
  'too-many-stations': ['station', 'stations'],
  'print-order': ['ink out of order', 'inks out of order'],
};

/**
 * The reading of an entry. Of several inks the worst is given, or the one they share; where none of a kind may be there
 * the count is given in words and no limit. `unitOnLimit: false` leaves the unit of the limit away where it is the
 * reading's own.
 */
export function readingInWords(entry: Entry, options: { gap?: string; unitOnLimit?: boolean } = {}): ReadingInWords {
  const { check, finding, members } = entry;
  if (!finding?.measured) return nothing;
  if (allowsNone(finding.measured.unit, finding.limit)) {
    const count = members.reduce((sum, member) => sum + countOf(member.finding), 0);
    return { reading: countWords(check.id, count), limit: '' };
  }
  const words = measuredInWords(check.id, finding.measured, finding.limit, failingSideOf(check, finding), options);
  if (members.length < 2) return words;
  const isShared = members.every((member) => member.finding.measured?.value === finding.measured?.value);
  return { ...words, reading: `${isShared ? 'each' : 'worst'} ${words.reading}` };
}

/** The tightest reading of a check that passed. */
export function tightestInWords(check: CheckResult): ReadingInWords {
  const { tightest } = check;
  if (!tightest) return nothing;
  if (allowsNone(tightest.unit, tightest.limit)) {
    return { reading: tightest.value === 0 ? 'none' : countWords(check.id, tightest.value), limit: '' };
  }
  const words = measuredInWords(check.id, tightest, tightest.limit, failingSideOfPassed(check), {});
  return { ...words, reading: `${tightest.atLeast ? 'at least ' : ''}${words.reading}` };
}

/** Whether the limit is that none of a kind is there: then there is a count to tell and no scale to show it on. */
export function allowsNone(unit: Unit, limit: Limit | null): boolean {
  return unit === 'count' && limit !== null && limit.unit === 'count' && limit.value === 0;
}

/** The value of one finding alone, as it stands in a list of several. */
export function valueInWords({ check, finding }: { check: CheckResult; finding: Finding }, gap = thinSpace): string {
  const { measured, limit } = finding;
  if (!measured || allowsNone(measured.unit, limit)) return '';
  const { value, unit, plusMinus } = measured;
  if (unit === 'count') return countWords(check.id, value);
  return quantity(value, unit, decimalsFor(unit, limit ? [value, limit.value] : [value], plusMinus), gap);
}

function measuredInWords(
  checkId: string,
  measured: NonNullable<Finding['measured']>,
  limit: Limit | null,
  side: FailingSide,
  { gap = thinSpace, unitOnLimit = true }: { gap?: string; unitOnLimit?: boolean },
): ReadingInWords {
  const { value, unit, plusMinus } = measured;
  const isZero = limit?.value === 0;
  const decimals = decimalsFor(unit, limit && !isZero ? [value, limit.value] : [value], plusMinus);
  const reading = unit === 'count' ? countWords(checkId, value) : readingWords(measured, decimals, gap);
  if (limit === null) return { reading, limit: '' };
  if (isZero && side === 'above') return { reading, limit: 'allows none' };
  const bare = limit.unit === unit && !unitOnLimit;
  const wanted = bare ? fixed(limit.value, decimals) : quantity(limit.value, limit.unit, decimals, gap);
  return { reading, limit: `${limitVerb(side)} ${wanted}` };
}

/** How many there are of what should not be there: its places, where it has any. */
function countOf(finding: Finding): number {
  return finding.placesTotal > 0 ? finding.placesTotal : (finding.measured?.value ?? 0);
}

function countWords(checkId: string, count: number): string {
  const noun = countNouns[checkId];
  return noun ? counted(count, ...noun) : fixed(count, Number.isInteger(count) ? 0 : 1);
}
