import { askOf } from '../support/askFixture.ts';
import type { CheckCases } from '../support/checkTester.ts';

const note = { code: 'mirrored', message: 'The film is stored mirrored.', affects: 'nothing' } as const;

export const cases: CheckCases = {
  neverFails: 'a file that says it is mirrored may have been made for printing through the film',
  neverPasses: 'a picture alone cannot tell, so silence proves nothing',
  zeroLimit: true,
  rows: [
    {
      name: 'one film of two says so',
      ask: askOf({ films: [{}, { file: 'night.tif', notes: [note] }] }),
      outcome: 'needsReview',
      readings: 2,
      at: 'just over',
      findings: [
        {
          code: 'says-it-is-mirrored',
          value: 1,
          inks: [],
          places: 1,
          boxMm: [0, 0, 300, 360],
          details: ['night.tif carries a mirrored orientation'],
        },
      ],
    },
    { name: 'nothing can tell', ask: askOf(), outcome: 'notApplicable', readings: 0, why: /cannot tell/ },
  ],
};
