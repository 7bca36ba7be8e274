import { askOf } from '../support/askFixture.ts';
import type { CheckCases } from '../support/checkTester.ts';

const blank = { coveragePercent: 0, inkedBoxMm: null };

export const cases: CheckCases = {
  zeroLimit: true,
  rows: [
    {
      name: 'two inks that print',
      ask: askOf({ inks: ['Coral', 'Night', { name: 'All', kind: 'registration', printed: false }] }),
      outcome: 'pass',
      readings: 2,
      tightest: 0,
      at: 'at',
    },
    {
      name: 'an ink that is declared and never painted with',
      ask: askOf({ inks: ['Coral', { name: 'Sand', printed: false }] }),
      outcome: 'needsReview',
      readings: 2,
      at: 'just over',
      findings: [{ code: 'never-painted', value: 1, inks: ['Sand'], places: 0 }],
    },
    {
      name: 'a film with nothing on it',
      ask: askOf({ inks: ['Coral', 'Night'], plates: [{ ink: 'Coral' }, { ink: 'Night', opacity: blank }] }),
      outcome: 'fail',
      readings: 2,
      findings: [{ code: 'blank-film', value: 1, inks: ['Night'], places: 0, details: ['a film with nothing on it'] }],
    },
    {
      name: 'a film that is empty because it could not be drawn',
      ask: askOf({ plates: [{ ink: 'Coral', opacity: blank, doubts: ['A blend could not be drawn.'] }] }),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'blank-film', value: 1, places: 0 }],
    },
    { name: 'no inks', ask: askOf({ inks: [] }), outcome: 'notApplicable', readings: 0, why: /no inks/ },

    {
      name: 'a film of light tints is not blank',
      ask: askOf({
        plates: [
          { ink: 'Coral', opacity: { coveragePercent: 5, inkedBoxMm: null, semiOpaquePercent: 12, maxInkPercent: 40 } },
        ],
      }),
      outcome: 'pass',
      readings: 1,
      tightest: 0,
    },
  ],
};
