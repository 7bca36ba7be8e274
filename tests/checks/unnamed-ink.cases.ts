import { askOf, boxAt } from '../support/askFixture.ts';
import type { CheckCases } from '../support/checkTester.ts';

const flat = { name: '#e2725b', kind: 'flat', nameFrom: 'colour', displayHex: '#e2725b' } as const;

export const cases: CheckCases = {
  neverFails: 'a colour without a name may be a good ink; somebody has to say which',
  zeroLimit: true,
  rows: [
    {
      name: 'a spot ink, and a flat colour the ticket named',
      ask: askOf({ inks: ['Night', { ...flat, name: 'Coral', nameFrom: 'ticket' }] }),
      outcome: 'pass',
      readings: 2,
      tightest: 0,
      at: 'at',
    },
    {
      name: 'a flat colour nobody named',
      ask: askOf({ inks: ['Night', flat] }),
      outcome: 'needsReview',
      readings: 2,
      findings: [
        {
          code: 'colour-without-name',
          value: 1,
          inks: ['#e2725b'],
          places: 1,
          boxMm: [20, 20, 260, 320],
          details: [],
        },
      ],
      at: 'just over',
    },
    {
      name: 'nothing that prints',
      ask: askOf({ inks: [{ ...flat, printed: false }] }),
      outcome: 'notApplicable',
      readings: 0,
      why: /No ink/,
    },

    {
      name: 'a flat colour on the second of two films',
      ask: askOf({
        inks: ['Night', flat],
        films: [{}, { widthMm: 200 }],
        plates: [{ ink: 'Night' }, { ink: flat.name, filmId: 'f2', opacity: { inkedBoxMm: boxAt(1, 2, 3, 4) } }],
      }),
      outcome: 'needsReview',
      readings: 2,
      findings: [{ code: 'colour-without-name', value: 1, places: 1, boxMm: [1, 2, 3, 4] }],
    },
    {
      name: 'a numbered film nobody named',
      ask: askOf({ inks: [{ ...flat, name: 'Film 2', nameFrom: 'fileName' }] }),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'colour-without-name', value: 1, inks: ['Film 2'], places: 1 }],
    },
  ],
};
