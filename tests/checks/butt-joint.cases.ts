import { askOf, boundaryAt, overlapOf } from '../support/askFixture.ts';
import type { CheckCases } from '../support/checkTester.ts';

const inks = [
  { name: 'Night', displayHex: '#1b2140' },
  { name: 'Coral', displayHex: '#ef6a57' },
];

function job(buttedLengthMm: number, lengthsMm: readonly number[]) {
  const butts = lengthsMm.map((lengthMm) => boundaryAt(0, lengthMm));
  return askOf({ inks, overlaps: [overlapOf('Night', 'Coral', { buttedLengthMm, butts })] });
}

export const cases: CheckCases = {
  zeroLimit: true,
  rows: [
    {
      name: 'overlap all along',
      ask: askOf({ inks, overlaps: [overlapOf('Night', 'Coral')] }),
      outcome: 'pass',
      readings: 1,
      tightest: 0,
      at: 'at',
    },
    {
      name: 'two lengths that butt',
      ask: job(12, [8, 4]),
      outcome: 'fail',
      readings: 1,
      at: 'just over',
      findings: [
        {
          code: 'edges-butt',
          value: 12,
          inks: ['Coral', 'Night'],
          places: 2,
          boxMm: [100, 40, 8, 1],
          details: ['12.0 mm of 800.0 mm of edge'],
        },
      ],
    },
    {
      name: 'the ink the ticket prints first spreads, though it is the darker',
      ask: askOf({
        inks,
        ticket: { screens: [{ ink: 'Night' }, { ink: 'Coral' }] },
        overlaps: [overlapOf('Night', 'Coral', { buttedLengthMm: 12, butts: [boundaryAt(0, 12)] })],
      }),
      outcome: 'fail',
      readings: 1,
      findings: [{ code: 'edges-butt', value: 12, inks: ['Night', 'Coral'], places: 1 }],
    },
    {
      name: 'a key prints after the colours, though it is the lighter',
      ask: askOf({
        inks,
        ticket: { roles: { Coral: 'key' } },
        overlaps: [overlapOf('Coral', 'Night', { buttedLengthMm: 12, butts: [boundaryAt(0, 12)] })],
      }),
      outcome: 'fail',
      readings: 1,
      findings: [{ code: 'edges-butt', value: 12, inks: ['Night', 'Coral'], places: 1 }],
    },
    {
      name: 'a touch where an overlap passes into a gap',
      ask: job(0.5, [0.5]),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'edges-may-butt', value: 0.5, places: 1 }],
    },
    {
      name: 'a trap of 0',
      ask: askOf({
        inks,
        ticket: { plateLimits: { trapMm: 0 } },
        overlaps: [overlapOf('Night', 'Coral', { buttedLengthMm: 80 })],
      }),
      outcome: 'notApplicable',
      readings: 0,
      why: /to butt/,
    },
    {
      name: 'no edge in common',
      ask: askOf({ inks, overlaps: [overlapOf('Night', 'Coral', { touchingLengthMm: 0 })] }),
      outcome: 'notApplicable',
      readings: 0,
      why: /share no edge/,
    },
    {
      name: 'nothing but halftones meet',
      ask: askOf({
        inks,
        overlaps: [
          overlapOf('Night', 'Coral', {
            touchingLengthMm: 0,
            leftOut: { areaMm2: 300, sharedAreaMm2: 40, outlineMm: 512.34 },
          }),
        ],
      }),
      outcome: 'notApplicable',
      readings: 0,
      why: /share no edge\. Of outlines in halftones 512\.3 mm were not measured\./,
    },
    {
      name: 'a base under an ink',
      ask: askOf({
        inks,
        ticket: { roles: { Night: 'underbase' } },
        overlaps: [overlapOf('Night', 'Coral', { buttedLengthMm: 80 })],
      }),
      outcome: 'notApplicable',
      readings: 0,
      why: /lies under/,
    },
  ],
};
