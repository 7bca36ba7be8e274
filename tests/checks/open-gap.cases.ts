import { askOf, boundaryAt, overlapOf } from '../support/askFixture.ts';
import type { CheckCases } from '../support/checkTester.ts';

const inks = [
  { name: 'Night', displayHex: '#1b2140' },
  { name: 'Coral', displayHex: '#ef6a57' },
];

function job(...gapsMm: number[]) {
  const gaps = gapsMm.map((gapMm) => boundaryAt(-gapMm));
  return askOf({ inks, overlaps: [overlapOf('Night', 'Coral', { gaps })] });
}

export const cases: CheckCases = {
  zeroLimit: true,
  rows: [
    {
      name: 'edges that touch all along',
      ask: askOf({ inks, overlaps: [overlapOf('Night', 'Coral')] }),
      outcome: 'pass',
      readings: 1,
      tightest: 0,
      at: 'at',
    },
    {
      name: 'a gap',
      ask: job(0.12),
      outcome: 'fail',
      readings: 1,
      at: 'just over',
      findings: [
        {
          code: 'shirt-shows-through',
          value: 0.12,
          plusMinus: 0.02,
          inks: ['Coral', 'Night'],
          places: 1,
          boxMm: [100, 40, 10, 1],
        },
      ],
    },
    {
      name: 'a gap no wider than its error',
      ask: job(0.02),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'close-to-limit', value: 0.02, places: 1 }],
    },
    {
      name: 'a gap of half a millimetre is a slip, a wider one may be meant',
      ask: job(0.5, 0.51),
      outcome: 'fail',
      readings: 2,
      findings: [
        { code: 'shirt-shows-through', value: 0.5, places: 1 },
        { code: 'wide-gap', outcome: 'needsReview', value: 0.51, places: 1 },
      ],
    },
    {
      name: 'no edge in common',
      ask: askOf({ inks, overlaps: [overlapOf('Night', 'Coral', { touchingLengthMm: 0 })] }),
      outcome: 'notApplicable',
      readings: 0,
      why: /share no edge/,
    },
    {
      name: 'a base under an ink',
      ask: askOf({
        inks,
        ticket: { roles: { Coral: 'underbase' } },
        overlaps: [overlapOf('Night', 'Coral', { gaps: [boundaryAt(-0.3)] })],
      }),
      outcome: 'notApplicable',
      readings: 0,
      why: /lies under/,
    },
  ],
};
