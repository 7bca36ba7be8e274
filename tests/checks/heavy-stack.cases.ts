import { askOf } from '../support/askFixture.ts';
import type { CheckCases } from '../support/checkTester.ts';

function job(coveragePercent: number) {
  return askOf({
    ticket: { limits: { heavyCoveragePercent: 60 } },
    plates: [{ ink: 'Coral', opacity: { coveragePercent } }],
  });
}

export const cases: CheckCases = {
  neverFails: 'a heavy print is a matter of taste, to be agreed with the customer',
  rows: [
    { name: 'just less than the limit', ask: job(59), outcome: 'pass', readings: 1, tightest: 59, at: 'just under' },
    { name: 'at the limit', ask: job(60), outcome: 'pass', readings: 1, tightest: 60, at: 'at' },
    {
      name: 'just more than the limit',
      ask: job(61),
      outcome: 'needsReview',
      readings: 1,
      at: 'just over',
      findings: [{ code: 'heavy-solid', value: 61, inks: ['Coral'], places: 1, boxMm: [20, 20, 260, 320] }],
    },
    {
      name: 'a clear film',
      ask: askOf({ plates: [{ ink: 'Coral', opacity: { coveragePercent: 0, inkedBoxMm: null } }] }),
      outcome: 'notApplicable',
      readings: 0,
      why: /no ink/,
    },

    {
      name: 'a film of light tints',
      ask: askOf({
        plates: [
          { ink: 'Coral', opacity: { coveragePercent: 5, inkedBoxMm: null, semiOpaquePercent: 12, maxInkPercent: 40 } },
        ],
      }),
      outcome: 'pass',
      readings: 1,
      tightest: 5,
    },
  ],
};
