import { askOf, objectOf } from '../support/askFixture.ts';
import type { CheckCases } from '../support/checkTester.ts';

type Overprint = ReturnType<typeof objectOf>['overprint'];

function white(id: string, overprint: Overprint, more = {}) {
  return objectOf({ id, isWhite: true, inks: [], overprint, ...more });
}

export const cases: CheckCases = {
  zeroLimit: true,
  rows: [
    {
      name: 'white that knocks out',
      ask: askOf({
        films: [
          { objects: [white('a', null), white('b', { fill: false, stroke: true, mode: 1 }), objectOf({ id: 'c' })] },
        ],
      }),
      outcome: 'pass',
      readings: 2,
      tightest: 0,
      at: 'at',
    },
    {
      name: 'white with overprint mode 1',
      ask: askOf({ films: [{ objects: [white('a', { fill: true, stroke: false, mode: 1 })] }] }),
      outcome: 'fail',
      readings: 1,
      at: 'just over',
      findings: [
        {
          code: 'white-vanishes',
          value: 1,
          inks: [],
          places: 1,
          boxMm: [50, 50, 40, 40],
          details: ['tee.pdf: white set to overprint, which prints nothing'],
        },
      ],
    },
    {
      name: 'a spot ink of 0 % set to overprint',
      ask: askOf({
        films: [
          {
            objects: [
              objectOf({
                id: 'a',
                inks: [{ key: 'Coral', tintRatio: 0 }],
                overprint: { fill: true, stroke: true, mode: 0 },
              }),
            ],
          },
        ],
      }),
      outcome: 'fail',
      readings: 1,
      findings: [{ code: 'white-vanishes', value: 1, places: 1 }],
    },
    {
      name: 'white with overprint mode 0, where programs differ',
      ask: askOf({ films: [{ objects: [white('a', { fill: false, stroke: true, mode: 0 }, { kind: 'stroke' })] }] }),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'white-may-vanish', value: 1, places: 1 }],
    },
    {
      name: 'no white',
      ask: askOf({
        films: [
          {
            objects: [
              objectOf({ id: 'c', overprint: { fill: true, stroke: true, mode: 1 } }),
              white('a', { fill: true, stroke: true, mode: 1 }, { hidden: 'covered' }),
            ],
          },
        ],
      }),
      outcome: 'notApplicable',
      readings: 0,
      why: /Nothing is painted in white/,
    },

    {
      name: 'a picture without ink that is not white, and a tint',
      ask: askOf({
        films: [
          {
            objects: [
              objectOf({ id: 'a', kind: 'image', inks: [], overprint: { fill: true, stroke: true, mode: 1 } }),
              objectOf({
                id: 'b',
                inks: [
                  { key: 'Coral', tintRatio: 0 },
                  { key: 'Night', tintRatio: 0.4 },
                ],
                overprint: { fill: true, stroke: true, mode: 1 },
              }),
            ],
          },
        ],
      }),
      outcome: 'notApplicable',
      readings: 0,
      why: /Nothing is painted in white/,
    },
  ],
};
