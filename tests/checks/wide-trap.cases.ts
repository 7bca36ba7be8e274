import { askOf, boundaryAt, overlapOf } from '../support/askFixture.ts';
import type { CheckCases } from '../support/checkTester.ts';

const inks = [
  { name: 'Coral', displayHex: '#ef6a57' },
  { name: 'Sand', displayHex: '#d8c39a' },
];

function job(more: Parameters<typeof overlapOf>[2], ticket = {}) {
  return askOf({ inks, ticket, overlaps: [overlapOf('Coral', 'Sand', more)] });
}

export const cases: CheckCases = {
  rows: [
    {
      name: 'just narrower than allowed',
      ask: job({ maxOverlapMm: 0.97, overlaps: [boundaryAt(0.97)] }),
      outcome: 'pass',
      readings: 1,
      tightest: 0.97,
      at: 'just under',
    },
    {
      name: 'as wide as allowed, give or take 0.02',
      ask: job({ maxOverlapMm: 1, overlaps: [boundaryAt(0.2), boundaryAt(1)] }),
      outcome: 'needsReview',
      readings: 2,
      at: 'at',
      findings: [{ code: 'close-to-limit', value: 1, plusMinus: 0.02, inks: ['Sand', 'Coral'], places: 1 }],
    },
    {
      name: 'just wider than allowed',
      ask: job({ maxOverlapMm: 1.03, overlaps: [boundaryAt(1.03)] }),
      outcome: 'fail',
      readings: 1,
      at: 'just over',
      findings: [{ code: 'overlap-shows', value: 1.03, inks: ['Sand', 'Coral'], places: 1, boxMm: [100, 40, 10, 1] }],
    },
    {
      name: 'the widest is read even when it is not in the list',
      ask: job({ maxOverlapMm: 1.5, overlaps: [boundaryAt(0.2)] }),
      outcome: 'fail',
      readings: 2,
      findings: [{ code: 'overlap-shows', value: 1.5, places: 0 }],
    },
    {
      name: 'the smaller limit of two inks counts',
      ask: job(
        { maxOverlapMm: 0.9, overlaps: [boundaryAt(0.9)] },
        { screens: [{ ink: 'Sand', limits: { maxTrapMm: 0.6 } }] },
      ),
      outcome: 'fail',
      readings: 1,
      findings: [{ code: 'overlap-shows', value: 0.9, places: 1 }],
    },
    {
      name: 'nothing shows under a key',
      ask: job({ maxOverlapMm: 3 }, { roles: { Coral: 'key' } }),
      outcome: 'notApplicable',
      readings: 0,
      why: /do not show/,
    },
    {
      name: 'nothing shows under a dark ink',
      ask: askOf({
        inks: [{ name: 'Night', displayHex: '#1b2140' }, 'Coral'],
        overlaps: [overlapOf('Night', 'Coral', { maxOverlapMm: 3 })],
      }),
      outcome: 'notApplicable',
      readings: 0,
      why: /under Night do not show/,
    },
    { name: 'no overlap', ask: job({}), outcome: 'notApplicable', readings: 0, why: /along no edge/ },
    {
      name: 'a base under an ink',
      ask: job({ maxOverlapMm: 3 }, { roles: { Sand: 'underbase' } }),
      outcome: 'notApplicable',
      readings: 0,
      why: /lies under/,
    },
  ],
};
