import { askOf, halftoneRegionOf } from '../support/askFixture.ts';
import type { CheckCases } from '../support/checkTester.ts';

function job(softEdgePercent: number | null, kind: 'am' | 'fm' | 'pattern' = 'am') {
  return askOf({ plates: [{ ink: 'Coral', halftone: { regions: [halftoneRegionOf({ kind, softEdgePercent })] } }] });
}

const twelve = askOf({ inks: Array.from({ length: 12 }, (_, n) => `Ink ${n + 1}`) });

export const cases: CheckCases = {
  neverFails: 'a scanner softens edges as well as a film, and a file does not tell them apart',
  rows: [
    { name: 'a little less', ask: job(9.8), outcome: 'pass', readings: 1, tightest: 9.8, at: 'just under' },
    { name: 'as much as may be', ask: job(10), outcome: 'pass', readings: 1, tightest: 10, at: 'at' },
    {
      name: 'a little more',
      ask: job(10.2),
      outcome: 'needsReview',
      readings: 1,
      at: 'just over',
      findings: [{ code: 'soft', value: 10.2, inks: ['Coral'], places: 1, boxMm: [100, 80, 100, 80] }],
    },
    {
      name: 'scattered dots as well',
      ask: job(80, 'fm'),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'soft', value: 80, places: 1 }],
    },
    { name: 'a one-bit film', ask: job(null), outcome: 'notApplicable', readings: 0, why: /black and clear only/ },
    { name: 'artwork', ask: job(80, 'pattern'), outcome: 'notApplicable', readings: 0, why: /artwork, not halftone/ },
    {
      name: 'twelve inks without halftone',
      ask: twelve,
      outcome: 'notApplicable',
      readings: 0,
      why: /^There is nothing of the kind in this job\.$/,
    },
  ],
};
