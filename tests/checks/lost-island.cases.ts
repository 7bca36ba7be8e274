import { askOf, screenedOf, spotAt } from '../support/askFixture.ts';
import type { CheckCases } from '../support/checkTester.ts';

const blank = { coveragePercent: 0, inkedBoxMm: null };

export const cases: CheckCases = {
  rows: [
    {
      name: 'just over the limit by more than its error',
      ask: askOf({ plates: [{ ink: 'Coral', detail: { islands: [spotAt(0.415, 100, 40, 0.01)] } }] }),
      outcome: 'pass',
      readings: 1,
      tightest: 0.415,
      at: 'just over',
    },
    {
      name: 'at the limit, give or take 0.02',
      ask: askOf({ plates: [{ ink: 'Coral', detail: { islands: [spotAt(0.4)] } }] }),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'close-to-limit', value: 0.4, plusMinus: 0.02, inks: ['Coral'], places: 1 }],
      at: 'at',
    },
    {
      name: 'just under the limit by more than its error, twice',
      ask: askOf({
        plates: [{ ink: 'Coral', detail: { islands: [spotAt(0.385, 100, 40, 0.01), spotAt(0.388, 50, 40, 0.01)] } }],
      }),
      outcome: 'fail',
      readings: 2,
      findings: [
        {
          code: 'washes-off',
          value: 0.385,
          plusMinus: 0.01,
          places: 2,
          boxMm: [100 - 0.1925, 40 - 0.1925, 0.385, 0.385],
        },
      ],
      at: 'just under',
    },
    {
      name: 'nothing smaller than was searched for',
      ask: askOf(),
      outcome: 'pass',
      readings: 1,
      tightest: 1,
    },
    {
      name: 'what is screened and was not read as halftone is not measured',
      ask: askOf({
        plates: [
          {
            ink: 'Coral',
            detail: { screened: screenedOf(0.04) },
          },
        ],
      }),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'not-measured', value: null, places: 0 }],
      why: /^43 mm² of Coral is full of small dots or holes that were not read as halftone/,
    },
    {
      name: 'a clear film',
      ask: askOf({ plates: [{ ink: 'Coral', opacity: blank }] }),
      outcome: 'notApplicable',
      readings: 0,
      why: /no ink/,
    },
  ],
};
