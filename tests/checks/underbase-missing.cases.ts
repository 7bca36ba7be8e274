import type { BareStrip } from '../../src/measurements/overlap.ts';
import { askOf, boxAt, underbaseOf } from '../support/askFixture.ts';
import type { CheckCases } from '../support/checkTester.ts';

const white = { name: 'White base', displayHex: '#ffffff' };
const coral = { name: 'Coral', displayHex: '#ef6a57' };
const night = { name: 'Night', displayHex: '#1b2140' };

function strip(xMm: number, ...plateIds: string[]): BareStrip {
  return { boxMm: boxAt(xMm, 60, 0.5, 100), xMm: xMm + 0.25, yMm: 110, widthMm: 0.5, lengthMm: 100, plateIds };
}

function job(bareMm2: readonly number[], bareStrips: readonly BareStrip[] = []) {
  const unbased = [
    ...bareMm2.map((areaMm2) => ({ boxMm: boxAt(30, 40, 10, 90), areaMm2, plateId: 'p-Coral' })),
    { boxMm: boxAt(30, 40, 90, 90), areaMm2: 5000, plateId: 'p-Night' },
  ];
  return askOf({
    inks: [white, coral, night],
    ticket: { garmentHex: '#1b2a41' },
    underbase: underbaseOf('White base', ['Coral', 'Night'], { unbased, bareStrips }),
  });
}

export const cases: CheckCases = {
  zeroLimit: true,
  rows: [
    { name: 'base under all of it', ask: job([]), outcome: 'pass', readings: 1, tightest: 0, at: 'at' },
    {
      // 12 % of 300 × 360 mm is 12960 mm² of Coral; 259.2 mm² are 2 % of it.
      name: 'fine parts without base',
      ask: job([200, 59.2]),
      outcome: 'needsReview',
      readings: 1,
      at: 'just over',
      findings: [{ code: 'detail-without-base', value: 2, inks: ['Coral'], places: 2, boxMm: [30, 40, 10, 90] }],
    },
    {
      // 0.5 × 100 mm of 12960 mm²; a strip within a part that is counted, and one under Night, are not.
      name: 'strips the choke took the base from',
      ask: job([64.8], [strip(200, 'p-Coral'), strip(35, 'p-Coral'), strip(220, 'p-Coral', 'p-Night')]),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'detail-without-base', value: 0.5 + (100 * 50) / 12960, inks: ['Coral'], places: 2 }],
    },
    {
      name: 'a large part without base',
      ask: job([2592]),
      outcome: 'fail',
      readings: 1,
      findings: [{ code: 'part-without-base', value: 20, inks: ['Coral'], places: 1 }],
    },
    {
      name: 'no base at all; dark ink and white need none',
      ask: askOf({ inks: [white, coral, night], ticket: { garmentHex: '#1b2a41' } }),
      outcome: 'fail',
      readings: 1,
      findings: [
        {
          code: 'no-base',
          value: 100,
          inks: ['Coral'],
          places: 1,
          boxMm: [20, 20, 260, 320],
          details: ['the job has no base'],
        },
      ],
    },
    {
      name: 'only white and dark inks',
      ask: askOf({ inks: [white, night], ticket: { garmentHex: '#1b2a41' } }),
      outcome: 'notApplicable',
      readings: 0,
      why: /white or dark/,
    },
    {
      name: 'a light garment',
      ask: askOf({ inks: [coral], ticket: { garmentHex: '#f0e0d0' } }),
      outcome: 'notApplicable',
      readings: 0,
      why: /garment is light/,
    },
    {
      name: 'no garment given',
      ask: askOf({ inks: [coral] }),
      outcome: 'notApplicable',
      readings: 0,
      why: /taken as white/,
    },
  ],
};
