import { askOf } from '../support/askFixture.ts';
import type { CheckCases } from '../support/checkTester.ts';

const ticket = { screens: [{ ink: 'Coral' }, { ink: 'Night' }] };

export const cases: CheckCases = {
  zeroLimit: true,
  rows: [
    {
      name: 'every frame has its art',
      ask: askOf({ ticket, inks: ['coral', 'Night', 'Sand'] }),
      outcome: 'pass',
      readings: 2,
      tightest: 0,
      at: 'at',
    },
    {
      name: 'one frame has none',
      ask: askOf({ ticket, inks: ['Coral', { name: 'Night', printed: false }] }),
      outcome: 'fail',
      readings: 2,
      at: 'just over',
      findings: [{ code: 'not-in-the-art', value: 1, inks: ['Night'], places: 0 }],
    },
    {
      name: 'one frame has none but a colour has no name',
      ask: askOf({ ticket, inks: ['Coral', { name: '#1b2140', kind: 'flat', nameFrom: 'colour' }] }),
      outcome: 'needsReview',
      readings: 2,
      findings: [
        {
          code: 'not-in-the-art',
          value: 1,
          inks: ['Night'],
          places: 0,
          details: ['The art has colours without a name; one of them may be this ink.'],
        },
      ],
    },
    { name: 'a ticket without frames', ask: askOf(), outcome: 'notApplicable', readings: 0, why: /no frames/ },
  ],
};
