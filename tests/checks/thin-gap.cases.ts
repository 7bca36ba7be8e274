import { askOf, narrowAt, screenedOf } from '../support/askFixture.ts';
import type { CheckCases } from '../support/checkTester.ts';

const blank = { coveragePercent: 0, inkedBoxMm: null };

export const cases: CheckCases = {
  rows: [
    {
      name: 'just over the limit by more than its error',
      ask: askOf({ plates: [{ ink: 'Coral', detail: { gaps: [narrowAt(0.52, 100, 40, { plusMinusMm: 0.01 })] } }] }),
      outcome: 'pass',
      readings: 1,
      tightest: 0.52,
      at: 'just over',
    },
    {
      name: 'at the limit, give or take 0.02',
      ask: askOf({ plates: [{ ink: 'Coral', detail: { gaps: [narrowAt(0.5)] } }] }),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'close-to-limit', value: 0.5, plusMinus: 0.02, inks: ['Coral'], places: 1 }],
      at: 'at',
    },
    {
      name: 'just under the limit by more than its error, twice',
      ask: askOf({
        plates: [
          {
            ink: 'Coral',
            detail: {
              gaps: [narrowAt(0.48, 100, 40, { plusMinusMm: 0.01 }), narrowAt(0.485, 50, 40, { plusMinusMm: 0.01 })],
            },
          },
        ],
      }),
      outcome: 'fail',
      readings: 2,
      findings: [{ code: 'fills-in', value: 0.48, plusMinus: 0.01, places: 2, boxMm: [98.5, 40 - 0.24, 3, 0.48] }],
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
      // 5 mm are narrower than 1 mm, so with straight sides 5 × 0.5 / 1 = 2.5 mm are narrower than 0.5 mm.
      name: 'a long notch closes at its point and never fails',
      ask: askOf({
        plates: [{ ink: 'Coral', detail: { gaps: [narrowAt(0.02, 100, 40, { kind: 'taper', lengthMm: 5 })] } }],
      }),
      outcome: 'needsReview',
      readings: 2,
      findings: [
        {
          code: 'closes-to-a-point',
          value: 2.5,
          places: 1,
          details: [
            'The longest notch closes to nothing over 2.50 mm, where it is narrower than 0.50 mm; 2.00 mm may go.',
          ],
        },
      ],
    },
    {
      name: 'a notch that fills by 2 mm is not worth a word',
      ask: askOf({
        plates: [{ ink: 'Coral', detail: { gaps: [narrowAt(0.02, 100, 40, { kind: 'taper', lengthMm: 4 })] } }],
      }),
      outcome: 'pass',
      readings: 2,
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
