import type { Limit, Reading } from '../findings/finding.ts';
import type { Judgement } from './check.ts';
import { reaches } from './judge.ts';
import { mm } from './words.ts';

/**
 * Judges a point that thins out. It has no width of its own; it loses the length over which it is narrower than the
 * limit. The sides of a point are taken as straight, so that length is to the length measured as the limit is to the
 * width it was measured below. Up to `mostLostMm` nobody need look. Never a failure: points are drawn to end.
 */
export function judgeTaper<Code extends string>(
  reading: Reading,
  limit: Limit,
  mostLostMm: number,
  code: Code,
  what: { readonly point: string; readonly ends: string },
): Judgement<Code> {
  const lostMm = reading.value * Math.min(1, limit.value / reading.narrowerThanMm!);
  const shown = {
    value: lostMm,
    plusMinus: reading.plusMinus,
    worse: 'more' as const,
    limit: {
      value: mostLostMm,
      unit: 'mm' as const,
      from: 'default' as const,
      rule: `${what.point} may lose ${mostLostMm} mm of its length, where it is narrower than ${mm(limit.value)}`,
      source: 'common practice, no source',
    },
    words: `${what.ends} to nothing over ${mm(lostMm)}, where it is narrower than ${mm(limit.value)}; ${mm(mostLostMm)} may go.`,
  };
  return reaches(mostLostMm, shown.value) ? { outcome: 'pass', shown } : { outcome: 'needsReview', code, shown };
}
