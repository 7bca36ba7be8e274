import { askOf, boxAt, markAt, marksOf, objectOf } from '../support/askFixture.ts';
import type { CheckCases } from '../support/checkTester.ts';

const ticket = { print: { widthMm: 260, heightMm: 320 } };
const marks = [marksOf('Coral', [markAt(150, 18)])];

function inked(widthMm: number, heightMm: number) {
  return { ink: 'Coral', opacity: { inkedBoxMm: boxAt(10, 10, widthMm, heightMm) } };
}

export const cases: CheckCases = {
  rows: [
    {
      name: 'as ordered',
      ask: askOf({ ticket, plates: [inked(260, 320)] }),
      outcome: 'pass',
      readings: 1,
      tightest: 0,
    },
    {
      name: 'over by just less than the tolerance',
      ask: askOf({ ticket, plates: [inked(260.478, 320)] }),
      outcome: 'pass',
      readings: 1,
      tightest: 0.478,
      at: 'just under',
    },
    {
      name: 'over by the tolerance, give or take a pixel',
      ask: askOf({ ticket, plates: [inked(260, 320.5)] }),
      outcome: 'needsReview',
      readings: 1,
      at: 'at',
      findings: [{ code: 'close-to-limit', value: 0.5, plusMinus: 0.02, places: 1 }],
    },
    {
      name: 'over by just more than the tolerance',
      ask: askOf({ ticket, plates: [inked(260.522, 100)] }),
      outcome: 'fail',
      readings: 1,
      at: 'just over',
      findings: [
        {
          code: 'larger-than-ordered',
          value: 0.522,
          places: 1,
          boxMm: [10, 10, 260.522, 100],
          details: ['260.5 mm × 100.0 mm, ordered 260 × 320 mm'],
        },
      ],
    },
    {
      name: 'too large on a film of unknown size',
      ask: askOf({ ticket, films: [{ scaleKnown: false }], plates: [inked(280, 320)] }),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'larger-than-ordered', value: 20, places: 1 }],
    },
    {
      name: 'marks outside the art do not count, hidden objects neither',
      ask: askOf({
        ticket,
        plates: [inked(280, 340)],
        marks,
        films: [
          {
            objects: [
              objectOf({ id: 'art', boxMm: boxAt(20, 30, 255, 300) }),
              objectOf({ id: 'mark', boxMm: boxAt(146, 14, 8, 8) }),
              objectOf({ id: 'off', boxMm: boxAt(10, 10, 280, 340), hidden: 'layerOff' }),
              objectOf({ id: 'paper', boxMm: boxAt(10, 10, 280, 340), isWhite: true, inks: [] }),
              objectOf({ id: 'cross', boxMm: boxAt(10, 10, 280, 340), inks: [{ key: 'All', tintRatio: 1 }] }),
            ],
            inks: [{ key: 'All', name: 'All', kind: 'registration', displayHex: '#000000', used: true }],
          },
        ],
      }),
      outcome: 'pass',
      readings: 1,
      tightest: -5,
    },
    {
      name: 'marks that cannot be told from the art leave it open',
      ask: askOf({ ticket, plates: [inked(280, 340)], marks, films: [{ nature: 'bitmap' }] }),
      outcome: 'needsReview',
      readings: 1,
      findings: [
        {
          code: 'larger-than-ordered',
          value: 20,
          places: 1,
          details: ['280.0 mm × 340.0 mm, ordered 260 × 320 mm', 'The size includes the registration marks.'],
        },
      ],
    },
    {
      name: 'marks that cannot be told from the art but fit with it',
      ask: askOf({ ticket, plates: [inked(200, 300)], marks, films: [{ nature: 'bitmap' }] }),
      outcome: 'pass',
      readings: 1,
      tightest: -20,
    },
    { name: 'no size ordered', ask: askOf(), outcome: 'notApplicable', readings: 0, why: /no print size/ },
    {
      name: 'a clear film',
      ask: askOf({ ticket, plates: [{ ink: 'Coral', opacity: { inkedBoxMm: null } }] }),
      outcome: 'notApplicable',
      readings: 0,
      why: /no black/,
    },

    {
      name: 'each film by its own art',
      ask: askOf({
        ticket,
        inks: ['Coral', 'Night'],
        films: [{}, { file: 'night.pdf' }],
        plates: [inked(200, 300), { ink: 'Night', filmId: 'f2', opacity: { inkedBoxMm: boxAt(5, 5, 263, 300) } }],
      }),
      outcome: 'fail',
      readings: 2,
      findings: [{ code: 'larger-than-ordered', value: 3, inks: ['Night'], places: 1, boxMm: [5, 5, 263, 300] }],
    },
  ],
};
