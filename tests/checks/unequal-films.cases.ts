import { askOf } from '../support/askFixture.ts';
import type { CheckCases } from '../support/checkTester.ts';

export const cases: CheckCases = {
  rows: [
    {
      name: 'sizes within the tolerance',
      ask: askOf({ films: [{}, { widthMm: 300.49 }] }),
      outcome: 'pass',
      readings: 1,
      tightest: 0.49,
      at: 'just under',
    },
    {
      name: 'sizes off by the tolerance',
      ask: askOf({ films: [{}, { heightMm: 359.5 }] }),
      outcome: 'pass',
      readings: 1,
      tightest: 0.5,
      at: 'at',
    },
    {
      name: 'sizes off by just more',
      ask: askOf({ films: [{}, { heightMm: 359.48, file: 'night.pdf', page: 2, pageCount: 2 }] }),
      outcome: 'fail',
      readings: 1,
      at: 'just over',
      findings: [
        {
          code: 'sizes-differ',
          value: 0.52,
          places: 1,
          boxMm: [0, 0, 300, 359.48],
          details: ['night.pdf, page 2: 300.0 mm × 359.5 mm; tee.pdf: 300.0 mm × 360.0 mm'],
        },
      ],
    },
    {
      name: 'sizes off, one of them assumed',
      ask: askOf({ films: [{}, { widthMm: 200, scaleKnown: false }] }),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'sizes-differ', value: 100, places: 1 }],
    },
    { name: 'one film', ask: askOf(), outcome: 'notApplicable', readings: 0, why: /one film/ },
  ],
};
