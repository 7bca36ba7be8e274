import type { Check } from './check.ts';
import { edgeIn, edgeReading, leftOutWords, placeOf, trapLimit } from './edge.ts';
import { judgeAtMost } from './judge.ts';
import { mm, mmUp } from './words.ts';

/** A wider gap along an edge reads as drawn on purpose. Common practice, no source for the figure. */
const widestSlipMm = 0.5;

export const openGap: Check<'shirt-shows-through' | 'wide-gap' | 'close-to-limit'> = {
  id: 'open-gap',
  title: 'No gap opens between inks that meet',
  failTitle: 'A gap opens between inks that should meet',
  asks: 'Do inks that run along each other leave no gap between them?',
  sources: [
    {
      kind: 'published',
      citation: 'The norm of visual acuity, one minute of arc: a gap of 0.17 mm is seen from 600 mm',
    },
    { kind: 'commonPractice', statement: 'inks that meet overlap or butt; a gap shows the garment' },
  ],
  scope: 'pair',
  worse: 'more',
  limit: (ask, subject) => {
    const edge = edgeIn(ask, subject);
    if ('why' in edge) return edge;
    const { from } = trapLimit(ask, edge.plates);
    return {
      value: 0,
      unit: 'mm',
      from,
      rule: 'inks that meet leave no gap; one wider than 0.5 mm may be meant',
      source: 'common practice, no source',
    };
  },
  *measure(ask, subject) {
    const edge = edgeIn(ask, subject);
    if ('why' in edge) return;
    const { gaps, touchingLengthMm } = edge.overlap;
    for (const place of gaps) {
      yield edgeReading(edge, { value: -place.overlapMm, unit: 'mm', ...placeOf(place) });
    }
    if (gaps.length > 0) return;
    if (touchingLengthMm > 0) yield edgeReading(edge, { value: 0, unit: 'mm', plusMinus: 0 });
    else yield { why: `${edge.inkNames[0]} and ${edge.inkNames[1]} share no edge.${leftOutWords(edge)}` };
  },
  judge: (reading, limit) => {
    const judgement = judgeAtMost(reading, limit, { beyond: 'shirt-shows-through', close: 'close-to-limit' });
    if (judgement.outcome !== 'fail' || reading.value <= widestSlipMm) return judgement;
    return { outcome: 'needsReview', code: 'wide-gap' };
  },
  advice: {
    'shirt-shows-through': {
      customer: ({ reading }) =>
        `Between ${reading.inkNames[0]} and ${reading.inkNames[1]} a gap of ${mm(reading.value)} will show what lies below. May we close it with a small overlap?`,
      printer: ({ reading }) =>
        `Spread ${reading.inkNames[0]} by ${mmUp(reading.value)} to close the gap, and by the trap on top, under ${reading.inkNames[1]}.`,
    },
    'wide-gap': {
      customer: ({ reading }) =>
        `Between ${reading.inkNames[0]} and ${reading.inkNames[1]} there is a gap of ${mm(reading.value)}. Is it meant as a line of bare shirt?`,
      printer: ({ reading }) =>
        `Ask whether the gap of ${mm(reading.value)} is drawn on purpose; if not, spread ${reading.inkNames[0]} under ${reading.inkNames[1]}.`,
    },
    'close-to-limit': {
      customer: ({ reading }) =>
        `Between ${reading.inkNames[0]} and ${reading.inkNames[1]} there may be a hairline gap. May we add a small overlap, or do you have a vector file we can measure?`,
      printer: ({ reading }) =>
        `Look at this edge under the loupe: a gap of ${mm(reading.value)} ± ${mm(reading.plusMinus)} may be none. A trap settles it.`,
    },
  },
};
