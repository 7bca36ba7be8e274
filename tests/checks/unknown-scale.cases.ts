import { askOf } from '../support/askFixture.ts';
import type { CheckCases } from '../support/checkTester.ts';

const note = { code: 'resolution-missing', message: 'It states no resolution.', affects: 'size' } as const;

export const cases: CheckCases = {
  neverFails: 'a missing size is asked for; it is no fault of the art',
  zeroLimit: true,
  rows: [
    { name: 'a film that states its size', ask: askOf(), outcome: 'pass', readings: 1, tightest: 0, at: 'at' },
    {
      name: 'one film of two that does not',
      ask: askOf({ films: [{}, { file: 'coral.png', scaleKnown: false, notes: [note] }] }),
      outcome: 'needsReview',
      readings: 2,
      at: 'just over',
      findings: [
        {
          code: 'size-not-stated',
          value: 1,
          places: 1,
          boxMm: [0, 0, 300, 360],
          details: ['coral.png, taken as 300.0 mm × 360.0 mm. It states no resolution.'],
        },
      ],
    },
    { name: 'no films', ask: askOf({ inks: [], films: [] }), outcome: 'notApplicable', readings: 0, why: /no films/ },
  ],
};
