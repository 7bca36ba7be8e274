import { askOf } from '../support/askFixture.ts';
import type { CheckCases } from '../support/checkTester.ts';

const ticket = { screens: [{ ink: 'Coral' }, { ink: 'Night' }] };

export const cases: CheckCases = {
  zeroLimit: true,
  rows: [
    {
      name: 'all inks listed',
      ask: askOf({ ticket, inks: ['coral', 'Night'] }),
      outcome: 'pass',
      readings: 2,
      tightest: 0,
      at: 'at',
    },
    {
      name: 'an ink that is not listed',
      ask: askOf({ ticket, inks: ['Coral', 'Sand', { name: 'Rain', printed: false }] }),
      outcome: 'fail',
      readings: 2,
      at: 'just over',
      findings: [{ code: 'not-listed', value: 1, inks: ['Sand'], places: 1, boxMm: [20, 20, 260, 320] }],
    },
    {
      name: 'a colour without a name may be one of them',
      ask: askOf({ ticket, inks: ['Coral', { name: '#1b2140', kind: 'flat', nameFrom: 'colour' }] }),
      outcome: 'needsReview',
      readings: 2,
      findings: [{ code: 'not-listed', value: 1, inks: ['#1b2140'], places: 1 }],
    },
    {
      name: 'inks that are not certain pass no test',
      ask: askOf({
        ticket,
        inks: ['Coral'],
        films: [{ notes: [{ code: 'blend', message: 'There are blends.', affects: 'inks' }] }],
      }),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'in-doubt', value: 0, places: 1, details: ['There are blends.'] }],
    },
    { name: 'a ticket without frames', ask: askOf(), outcome: 'notApplicable', readings: 0, why: /no frames/ },
  ],
};
