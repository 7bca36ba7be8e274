import type { Limit, Reading } from '../findings/finding.ts';
import type { Judgement } from './check.ts';

export interface JudgeCodes<Code extends string> {
  /** Clear of the limit on the wrong side. */
  readonly beyond: Code;
  /** The limit lies inside the error bar. */
  readonly close: Code;
}

/**
 * Judges a reading three ways against a minimum, which is inclusive: a reading whose whole error bar reaches the limit
 * passes, one whose whole bar stays below it fails, and one the limit cuts through needs review.
 */
export function judgeAtLeast<Code extends string>(
  reading: Reading,
  limit: Limit,
  codes: JudgeCodes<Code>,
): Judgement<Code> {
  const { value, plusMinus } = reading;
  if (reaches(value - plusMinus, limit.value)) return { outcome: 'pass' };
  if (reading.atLeast || reaches(value + plusMinus, limit.value)) return { outcome: 'needsReview', code: codes.close };
  return { outcome: 'fail', code: codes.beyond };
}

/** Judges a reading three ways against a maximum, which is inclusive. */
export function judgeAtMost<Code extends string>(
  reading: Reading,
  limit: Limit,
  codes: JudgeCodes<Code>,
): Judgement<Code> {
  const { value, plusMinus } = reading;
  if (reaches(limit.value, value + plusMinus)) return { outcome: 'pass' };
  if (reaches(limit.value, value - plusMinus)) return { outcome: 'needsReview', code: codes.close };
  return { outcome: 'fail', code: codes.beyond };
}

/** Limits are rounded to a tenth of a µm, and decimal sums miss by less still: such a hair decides nothing. */
const hair = 1e-4;

/** Whether `value` is at least `wanted`, a hair's breadth given. */
export function reaches(value: number, wanted: number): boolean {
  return value >= wanted - hair;
}
