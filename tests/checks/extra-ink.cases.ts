import { askOf } from '../support/askFixture.ts';
import type { CheckCases } from '../support/checkTester.ts';

const ticket = { limits: { maxInks: 3 } };

export const cases: CheckCases = {
  rows: [
    {
      name: 'two inks of three',
      ask: askOf({ ticket, inks: ['Lagoon', 'Coral', { name: 'Sand', printed: false }] }),
      outcome: 'pass',
      readings: 1,
      tightest: 2,
      at: 'just under',
    },
    {
      name: 'three inks of three',
      ask: askOf({ ticket, inks: ['Lagoon', 'Coral', 'Night'] }),
      outcome: 'pass',
      readings: 1,
      tightest: 3,
      at: 'at',
    },
    {
      name: 'four inks of three',
      ask: askOf({ ticket, inks: ['Lagoon', 'Coral', 'Night', 'Sand'] }),
      outcome: 'fail',
      readings: 1,
      findings: [
        { code: 'more-than-allowed', value: 4, plusMinus: 0, inks: ['Lagoon', 'Coral', 'Night', 'Sand'], places: 0 },
      ],
      at: 'just over',
    },
    {
      name: 'four inks of three in a file whose inks are not certain',
      ask: askOf({
        ticket,
        inks: ['Lagoon', 'Coral', 'Night', 'Sand'],
        films: [{ notes: [{ code: 'many-colours', message: 'The art has blends of colour.', affects: 'inks' }] }],
      }),
      outcome: 'fail',
      readings: 1,
      findings: [{ code: 'more-than-allowed', value: 4, places: 0, details: ['The art has blends of colour.'] }],
    },
    {
      name: 'three inks of three in a file that may hide more',
      ask: askOf({
        ticket,
        inks: ['Lagoon', 'Coral', 'Night'],
        films: [{ notes: [{ code: 'many-colours', message: 'The art has blends of colour.', affects: 'inks' }] }],
      }),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'in-doubt', value: 3, places: 0, details: ['The art has blends of colour.'] }],
    },
    {
      name: 'four colours of three, of which one may be the garment',
      ask: askOf({
        ticket,
        inks: ['Lagoon', 'Coral', 'Night', 'Sand'],
        films: [{ notes: [{ code: 'coloured-ground', message: 'Sand reaches the edge.', affects: 'inks' }] }],
      }),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'more-than-allowed', value: 4, plusMinus: 1, places: 0, details: ['Sand reaches the edge.'] }],
    },
    {
      name: 'five colours of three, of which one may be the garment',
      ask: askOf({
        ticket,
        inks: ['Lagoon', 'Coral', 'Night', 'Sand', 'Sun'],
        films: [{ notes: [{ code: 'coloured-ground', message: 'Sand reaches the edge.', affects: 'inks' }] }],
      }),
      outcome: 'fail',
      readings: 1,
      findings: [{ code: 'more-than-allowed', value: 5, plusMinus: 1, places: 0 }],
    },
    {
      name: 'no ink at all',
      ask: askOf({ ticket, inks: [{ name: 'Coral', printed: false }] }),
      outcome: 'notApplicable',
      readings: 0,
      why: /No ink/,
    },
  ],
};
