import { askOf, markAt, marksOf, registerOf } from '../support/askFixture.ts';
import type { CheckCases } from '../support/checkTester.ts';

function job(more: Parameters<typeof registerOf>[1]) {
  const marks = [markAt(150, 10), markAt(150, 350)];
  const plates = [registerOf('Coral'), registerOf('Night', more)];
  return askOf({
    inks: ['Coral', 'Night'],
    marks: [marksOf('Coral', marks), marksOf('Night', marks)],
    registration: { referencePlateId: 'p-Coral', plates },
  });
}

export const cases: CheckCases = {
  rows: [
    {
      name: 'just less than the limit',
      ask: job({ scale: 1.00096 }),
      outcome: 'pass',
      readings: 1,
      tightest: 0.096,
      at: 'just under',
    },
    {
      name: 'at the limit, give or take what the marks can tell',
      ask: job({ scale: 0.999 }),
      outcome: 'needsReview',
      readings: 1,
      at: 'at',
      findings: [
        { code: 'close-to-limit', value: 0.1, plusMinus: 0.003, places: 1, details: ['0.36 mm shorter over 360 mm'] },
      ],
    },
    {
      name: 'just more than the limit',
      ask: job({ scale: 1.00104 }),
      outcome: 'fail',
      readings: 1,
      at: 'just over',
      findings: [
        {
          code: 'stretched',
          value: 0.104,
          inks: ['Night'],
          places: 1,
          boxMm: [0, 0, 300, 360],
          details: ['0.37 mm longer over 360 mm'],
        },
      ],
    },
    {
      name: 'one mark cannot tell',
      ask: job({ scale: null, scalePlusMinus: null, rotationDeg: null, rotationPlusMinusDeg: null }),
      outcome: 'needsReview',
      readings: 0,
      findings: [{ code: 'not-measured', value: null, inks: ['Night'], places: 0 }],
      why: /too few marks/,
    },
    {
      name: 'a scale without a bar, by the outlines of the art, is no reading',
      ask: job({ marksUsed: 0, scale: 1, scalePlusMinus: null }),
      outcome: 'needsReview',
      readings: 0,
      findings: [{ code: 'not-measured', value: null, inks: ['Night'], places: 0 }],
      why: /too few marks/,
    },
    { name: 'a single film', ask: askOf(), outcome: 'notApplicable', readings: 0, why: /single film/ },
  ],
};
