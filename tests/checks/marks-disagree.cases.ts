import { askOf, registerOf } from '../support/askFixture.ts';
import type { CheckCases } from '../support/checkTester.ts';

function job(more: Parameters<typeof registerOf>[1]) {
  const plates = [registerOf('Coral'), registerOf('Night', more)];
  return askOf({ inks: ['Coral', 'Night'], registration: { referencePlateId: 'p-Coral', plates } });
}

export const cases: CheckCases = {
  rows: [
    {
      name: 'just less than the press holds',
      ask: job({ worstOffsetMm: 0.239 }),
      outcome: 'pass',
      readings: 1,
      tightest: 0.239,
      at: 'just under',
    },
    {
      name: 'as much as the press holds, give or take 0.01',
      ask: job({ worstOffsetMm: 0.25 }),
      outcome: 'needsReview',
      readings: 1,
      at: 'at',
      findings: [{ code: 'close-to-limit', value: 0.25, plusMinus: 0.01, places: 0 }],
    },
    {
      // 0.3, 0.4 is 0.5 away.
      name: 'one mark apart, and two that are not',
      ask: job({
        worstOffsetMm: 0.5,
        residualMm: 0.31,
        residuals: [
          { xMm: 150, yMm: 350, dxMm: 0.3, dyMm: -0.4 },
          { xMm: 150, yMm: 10, dxMm: 0, dyMm: 0 },
        ],
      }),
      outcome: 'fail',
      readings: 1,
      findings: [
        {
          code: 'marks-apart',
          value: 0.5,
          inks: ['Night'],
          places: 2,
          boxMm: [146, 346, 8, 8],
          details: ['0.31 mm stay when the film is moved to fit as well as it can'],
        },
      ],
    },
    {
      name: 'just more than the press holds',
      ask: job({ worstOffsetMm: 0.261 }),
      outcome: 'fail',
      readings: 1,
      at: 'just over',
      findings: [{ code: 'marks-apart', value: 0.261, places: 0 }],
    },
    { name: 'a single film', ask: askOf(), outcome: 'notApplicable', readings: 0, why: /single film/ },
    {
      name: 'no marks in common',
      ask: askOf({ inks: ['Coral', 'Night'] }),
      outcome: 'notApplicable',
      readings: 0,
      why: /Fewer than two films/,
    },
  ],
};
