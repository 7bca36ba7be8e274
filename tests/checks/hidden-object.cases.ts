import { askOf, objectOf } from '../support/askFixture.ts';
import type { CheckCases } from '../support/checkTester.ts';

export const cases: CheckCases = {
  neverFails: 'what is hidden may be meant to be; somebody has to say',
  zeroLimit: true,
  rows: [
    {
      name: 'all objects seen, and hidden white that changes nothing',
      ask: askOf({
        films: [
          { objects: [objectOf({ id: 'a' }), objectOf({ id: 'b', isWhite: true, inks: [], hidden: 'covered' })] },
        ],
      }),
      outcome: 'pass',
      readings: 1,
      tightest: 0,
      at: 'at',
    },
    {
      name: 'one covered, one outside the page',
      ask: askOf({
        films: [
          {
            objects: [
              objectOf({ id: 'a', hidden: 'covered' }),
              objectOf({ id: 'b', hidden: 'outsidePage', layerPath: ['Notes', 'old'] }),
            ],
          },
        ],
      }),
      outcome: 'needsReview',
      readings: 2,
      at: 'just over',
      findings: [
        {
          code: 'unseen-object',
          value: 1,
          inks: ['Coral'],
          places: 2,
          boxMm: [50, 50, 40, 40],
          details: [
            'tee.pdf, fill: wholly covered by what lies on top',
            'tee.pdf, fill in layer “Notes / old”: outside the page',
          ],
        },
      ],
    },
    {
      name: 'a layer switched off and white on clear film, each for itself',
      ask: askOf({
        films: [
          {
            objects: [
              objectOf({ id: 'a', hidden: 'layerOff' }),
              objectOf({ id: 'b', isWhite: true, inks: [], hidden: 'sameAsGround' }),
            ],
          },
        ],
      }),
      outcome: 'needsReview',
      readings: 2,
      findings: [
        { code: 'layer-switched-off', value: 1, places: 1 },
        { code: 'white-on-clear', value: 1, inks: [], places: 1 },
      ],
    },
    {
      name: 'a picture has no objects',
      ask: askOf(),
      outcome: 'notApplicable',
      readings: 0,
      why: /no separate objects/,
    },

    {
      name: 'the picture a bitmap film is',
      ask: askOf({ films: [{ nature: 'bitmap', objects: [objectOf({ id: 'a', kind: 'image' })] }] }),
      outcome: 'notApplicable',
      readings: 0,
      why: /no separate objects/,
    },

    {
      name: 'white on clear film that prints as an ink is seen',
      ask: askOf({
        inks: ['Coral', { name: 'White', displayHex: '#ffffff' }],
        films: [{ objects: [objectOf({ id: 'b', isWhite: true, inks: [], hidden: 'sameAsGround' })] }],
      }),
      outcome: 'pass',
      readings: 1,
      tightest: 0,
    },
    {
      name: 'a film whose reader does not look under things',
      ask: askOf({ films: [{ coverNotSought: true, objects: [objectOf({ id: 'a' })] }] }),
      outcome: 'notApplicable',
      readings: 0,
      why: /not looked for in a PDF/,
    },
    {
      name: 'a layer switched off on such a film',
      ask: askOf({ films: [{ coverNotSought: true, objects: [objectOf({ id: 'a', hidden: 'layerOff' })] }] }),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'layer-switched-off', value: 1, inks: ['Coral'], places: 1 }],
    },
  ],
};
