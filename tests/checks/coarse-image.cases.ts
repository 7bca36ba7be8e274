import { askOf, boxAt, objectOf } from '../support/askFixture.ts';
import type { CheckCases } from '../support/checkTester.ts';

function picture(id: string, ppiX: number, ppiY = ppiX, more = {}) {
  return objectOf({
    id,
    kind: 'image',
    boxMm: boxAt(30, 40, 50, 60),
    image: { widthPx: 400, heightPx: 300, ppiX, ppiY, bitsPerComponent: 8, colour: 'grey' },
    ...more,
  });
}

export const cases: CheckCases = {
  rows: [
    {
      name: 'just more pixels than asked',
      ask: askOf({ films: [{ objects: [picture('a', 201, 300)] }] }),
      outcome: 'pass',
      readings: 1,
      tightest: 201,
      at: 'just over',
    },
    {
      name: 'as many as asked',
      ask: askOf({ films: [{ objects: [picture('a', 200)] }] }),
      outcome: 'pass',
      readings: 1,
      tightest: 200,
      at: 'at',
    },
    {
      name: 'just fewer one way, and a hidden picture that is worse',
      ask: askOf({
        films: [
          { objects: [picture('a', 300, 199), picture('b', 72, 72, { hidden: 'covered' }), objectOf({ id: 'c' })] },
        ],
      }),
      outcome: 'fail',
      readings: 1,
      at: 'just under',
      findings: [
        {
          code: 'too-coarse',
          value: 199,
          inks: ['Coral'],
          places: 1,
          boxMm: [30, 40, 50, 60],
          details: ['tee.pdf: 400 × 300 pixels'],
        },
      ],
    },
    {
      name: 'two coarse pictures, the worse first',
      ask: askOf({ films: [{ objects: [picture('a', 150), picture('b', 90)] }] }),
      outcome: 'fail',
      readings: 2,
      findings: [{ code: 'too-coarse', value: 90, places: 2 }],
    },
    {
      name: 'too few on a film of unknown size',
      ask: askOf({ films: [{ scaleKnown: false, objects: [picture('a', 72)] }] }),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'too-coarse', value: 72, places: 1 }],
    },
    {
      name: 'no pictures',
      ask: askOf({ films: [{ objects: [objectOf({ id: 'c' })] }] }),
      outcome: 'notApplicable',
      readings: 0,
      why: /no pictures/,
    },
    {
      name: 'a coarse picture on the second film, in one of its two inks',
      ask: askOf({
        inks: ['Sand', 'Coral', 'Night'],
        films: [{}, { objects: [picture('a', 100)] }],
        plates: [{ ink: 'Sand' }, { ink: 'Coral', filmId: 'f2' }, { ink: 'Night', filmId: 'f2' }],
      }),
      outcome: 'fail',
      readings: 1,
      findings: [{ code: 'too-coarse', value: 100, inks: ['Coral'], places: 1 }],
    },
    {
      name: 'a picture whose colours were not split into inks',
      ask: askOf({ films: [{ objects: [picture('a', 90, 90, { isWhite: true, inks: [] })] }] }),
      outcome: 'fail',
      readings: 1,
      findings: [{ code: 'too-coarse', value: 90, inks: [], places: 1 }],
    },
  ],
};
