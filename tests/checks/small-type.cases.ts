import { askOf, boxAt, objectOf } from '../support/askFixture.ts';
import type { CheckCases } from '../support/checkTester.ts';

function text(id: string, sizePt: number, more = {}) {
  return objectOf({
    id,
    kind: 'text',
    boxMm: boxAt(60, 60, 20, 5),
    text: { fontName: 'Festival Sans', sizePt, embedded: true, resolved: true, excerpt: 'Village festival' },
    ...more,
  });
}

export const cases: CheckCases = {
  rows: [
    {
      name: 'large type drawn in another font',
      ask: askOf({
        films: [
          {
            objects: [text('a', 30)],
            notes: [{ code: 'font', message: 'Another font was taken.', affects: 'plate', objectId: 'a' }],
          },
        ],
        plates: [{ ink: 'Coral', doubts: ['Another font was taken.'] }],
      }),
      outcome: 'pass',
      readings: 1,
      tightest: 30,
    },
    {
      name: 'large type on a plate where something else could not be drawn',
      ask: askOf({
        films: [
          { objects: [text('a', 30)], notes: [{ code: 'font', message: 'A pattern is missing.', affects: 'plate' }] },
        ],
        plates: [{ ink: 'Coral', doubts: ['A pattern is missing.'] }],
      }),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'not-verified', value: 30, places: 1, details: ['A pattern is missing.'] }],
    },
    {
      name: 'just larger than asked',
      ask: askOf({ films: [{ objects: [text('a', 8.1)] }] }),
      outcome: 'pass',
      readings: 1,
      tightest: 8.1,
      at: 'just over',
    },
    {
      name: 'as asked',
      ask: askOf({ films: [{ objects: [text('a', 8)] }] }),
      outcome: 'pass',
      readings: 1,
      tightest: 8,
      at: 'at',
    },
    {
      name: 'just smaller, in one ink of two, and hidden type that is smaller still',
      ask: askOf({
        inks: ['Coral', 'Night'],
        films: [{ objects: [text('a', 7.9), text('b', 4, { hidden: 'covered' })] }],
      }),
      outcome: 'fail',
      readings: 1,
      at: 'just under',
      findings: [
        {
          code: 'too-small-to-read',
          value: 7.9,
          inks: ['Coral'],
          places: 1,
          boxMm: [60, 60, 20, 5],
          details: ['“Village festival”'],
        },
      ],
    },
    {
      name: 'white type is judged in the ink it is cut out of',
      ask: askOf({
        inks: ['Coral', 'Night'],
        films: [
          {
            objects: [
              objectOf({ id: 'ground' }),
              objectOf({ id: 'other', inks: [{ key: 'Night', tintRatio: 1 }], boxMm: boxAt(70, 50, 40, 40) }),
              text('a', 6, { isWhite: true, inks: [] }),
            ],
          },
        ],
      }),
      outcome: 'fail',
      readings: 1,
      findings: [
        {
          code: 'too-small-to-read',
          value: 6,
          inks: ['Coral'],
          places: 1,
          details: ['“Village festival”, reversed out'],
        },
      ],
    },
    {
      name: 'too small on a film of unknown size',
      ask: askOf({ films: [{ scaleKnown: false, objects: [text('a', 6)] }] }),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'too-small-to-read', value: 6, places: 1 }],
    },
    {
      name: 'white type on nothing',
      ask: askOf({ films: [{ objects: [text('a', 6, { isWhite: true, inks: [] })] }] }),
      outcome: 'notApplicable',
      readings: 0,
      why: /no live type/,
    },

    {
      name: 'type in 0 % of the ink is not in it',
      ask: askOf({ films: [{ objects: [text('a', 6, { inks: [{ key: 'Coral', tintRatio: 0 }] })] }] }),
      outcome: 'notApplicable',
      readings: 0,
      why: /no live type/,
    },
  ],
};
