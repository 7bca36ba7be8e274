import { askOf, boundaryAt, overlapOf } from '../support/askFixture.ts';
import type { CheckCases } from '../support/checkTester.ts';

const inks = [
  { name: 'Night', displayHex: '#1b2140' },
  { name: 'Coral', displayHex: '#ef6a57' },
];

function job(overlapMm: number, plusMinusMm = 0.02) {
  return askOf({ inks, overlaps: [overlapOf('Night', 'Coral', { plusMinusMm, overlaps: [boundaryAt(overlapMm)] })] });
}

export const cases: CheckCases = {
  rows: [
    { name: 'just more than the trap', ask: job(0.271), outcome: 'pass', readings: 1, tightest: 0.271 },
    {
      name: 'a trap the pixels can just settle',
      ask: job(0.26, 0.01),
      outcome: 'pass',
      readings: 1,
      tightest: 0.26,
      at: 'just over',
    },
    {
      name: 'at the trap, give or take 0.02',
      ask: job(0.25),
      outcome: 'needsReview',
      readings: 1,
      at: 'at',
      findings: [{ code: 'close-to-limit', value: 0.25, plusMinus: 0.02, inks: ['Coral', 'Night'], places: 1 }],
    },
    {
      name: 'just less than the trap',
      ask: job(0.239, 0.01),
      outcome: 'fail',
      readings: 1,
      at: 'just under',
      findings: [
        { code: 'overlap-too-small', value: 0.239, inks: ['Coral', 'Night'], places: 1, boxMm: [100, 40, 10, 1] },
      ],
    },
    {
      name: 'the larger trap of two inks counts',
      ask: askOf({
        inks,
        ticket: { screens: [{ ink: 'Night', limits: { trapMm: 0.5 } }] },
        overlaps: [overlapOf('Night', 'Coral', { overlaps: [boundaryAt(0.4), boundaryAt(0.3), boundaryAt(0.9)] })],
      }),
      outcome: 'fail',
      readings: 3,
      findings: [{ code: 'overlap-too-small', value: 0.3, places: 2 }],
    },
    {
      name: 'a trap of 0',
      ask: askOf({
        inks,
        ticket: { plateLimits: { trapMm: 0 } },
        overlaps: [overlapOf('Night', 'Coral', { overlaps: [boundaryAt(0.1)] })],
      }),
      outcome: 'notApplicable',
      readings: 0,
      why: /to butt/,
    },
    {
      name: 'no overlap anywhere',
      ask: askOf({ inks, overlaps: [overlapOf('Night', 'Coral')] }),
      outcome: 'notApplicable',
      readings: 0,
      why: /along no edge/,
    },
    {
      name: 'a base under an ink',
      ask: askOf({
        inks,
        ticket: { roles: { Coral: 'underbase' } },
        overlaps: [overlapOf('Night', 'Coral', { overlaps: [boundaryAt(0.1)] })],
      }),
      outcome: 'notApplicable',
      readings: 0,
      why: /lies under/,
    },
    {
      name: 'no two inks meet',
      ask: askOf({ inks }),
      outcome: 'notApplicable',
      readings: 0,
      why: /nothing of the kind/,
    },
  ],
};
