import { askOf, registerOf } from '../support/askFixture.ts';
import type { CheckCases } from '../support/checkTester.ts';

function job(more: Parameters<typeof registerOf>[1], heightMm = 360) {
  const plates = [registerOf('Coral'), registerOf('Night', more)];
  return askOf({
    inks: ['Coral', 'Night'],
    films: [{ heightMm }],
    registration: { referencePlateId: 'p-Coral', plates },
  });
}

export const cases: CheckCases = {
  rows: [
    {
      // √(0.09² + 0.22²) = 0.237697…
      name: 'shifted by just less than the press holds',
      ask: job({ dxMm: 0.09, dyMm: 0.22, rotationDeg: null }),
      outcome: 'pass',
      readings: 1,
      tightest: Math.hypot(0.09, 0.22),
      at: 'just under',
    },
    {
      name: 'shifted by what the press holds, give or take 0.01',
      ask: job({ dxMm: -0.15, dyMm: 0.2, rotationDeg: null }),
      outcome: 'needsReview',
      readings: 1,
      at: 'at',
      findings: [
        { code: 'close-to-limit', value: 0.25, plusMinus: 0.01, places: 1, details: ['0.15 mm left, 0.20 mm down'] },
      ],
    },
    {
      name: 'shifted by just more',
      ask: job({ dxMm: 0.26001, dyMm: 0, rotationDeg: null, plusMinusMm: 0.005 }),
      outcome: 'fail',
      readings: 1,
      at: 'just over',
      findings: [{ code: 'shifted', value: 0.26001, inks: ['Night'], places: 1, boxMm: [0, 0, 300, 360] }],
    },
    {
      // Half the diagonal of 300 × 400 mm is 250 mm; a corner moves along a chord of 2 · 250 · sin(0.2° / 2) = 0.872664 mm.
      name: 'turned about its middle',
      ask: job({ rotationDeg: -0.2 }, 400),
      outcome: 'fail',
      readings: 2,
      findings: [
        {
          code: 'turned',
          value: 500 * Math.sin((0.1 * Math.PI) / 180),
          places: 1,
          details: ['turned 0.200° clockwise, which moves the corners of the film'],
        },
      ],
    },
    { name: 'neither shifted nor turned', ask: job({}), outcome: 'pass', readings: 2, tightest: 0 },
    { name: 'a single film', ask: askOf(), outcome: 'notApplicable', readings: 0, why: /single film/ },
  ],
};
