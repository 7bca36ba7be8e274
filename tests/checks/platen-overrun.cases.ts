import { askOf, boxAt, markAt, marksOf } from '../support/askFixture.ts';
import type { CheckCases } from '../support/checkTester.ts';

function inked(widthMm: number, heightMm: number) {
  return { ink: 'Coral', opacity: { inkedBoxMm: boxAt(1, 1, widthMm, heightMm) } };
}

export const cases: CheckCases = {
  rows: [
    {
      name: 'a part that could not be drawn, on a film that leaves the margin',
      ask: askOf({ films: [{ widthMm: 350 }], plates: [{ ...inked(200, 300), doubts: ['A pattern is missing.'] }] }),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'not-verified', value: 75, places: 1 }],
    },
    {
      name: 'a part that could not be drawn, on a film that cannot come near the edge',
      ask: askOf({ plates: [{ ...inked(200, 300), doubts: ['A pattern is missing.'] }] }),
      outcome: 'pass',
      readings: 1,
      tightest: 75,
    },
    {
      name: 'just more than the margin',
      ask: askOf({ plates: [inked(348, 300)] }),
      outcome: 'pass',
      readings: 1,
      tightest: 26,
      at: 'just over',
    },
    {
      name: 'exactly the margin, give or take half a pixel',
      ask: askOf({ plates: [inked(350, 300)] }),
      outcome: 'needsReview',
      readings: 1,
      at: 'at',
      findings: [
        {
          code: 'tight-margin',
          value: 25,
          plusMinus: 0.01,
          places: 1,
          details: ['350.0 mm × 300.0 mm on a platen of 400 × 450 mm'],
        },
      ],
    },
    {
      name: 'just less than the margin',
      ask: askOf({ plates: [inked(300, 402)] }),
      outcome: 'needsReview',
      readings: 1,
      at: 'just under',
      findings: [{ code: 'tight-margin', value: 24, places: 1, boxMm: [1, 1, 300, 402] }],
    },
    {
      name: 'less than a quarter inch',
      ask: askOf({ plates: [inked(388, 300)] }),
      outcome: 'fail',
      readings: 1,
      findings: [{ code: 'runs-off-the-platen', value: 6, places: 1 }],
    },
    {
      name: 'larger than the platen, with marks that may be what is too large',
      ask: askOf({
        plates: [inked(410, 300)],
        marks: [marksOf('Coral', [markAt(10, 10)])],
        films: [{ nature: 'bitmap', widthMm: 420 }],
      }),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'runs-off-the-platen', value: -5, places: 1 }],
    },
    {
      name: 'a clear film',
      ask: askOf({ plates: [{ ink: 'Coral', opacity: { inkedBoxMm: null } }] }),
      outcome: 'notApplicable',
      readings: 0,
      why: /no black/,
    },

    {
      // 387.31 mm leave 6.345 mm, and 6.355 mm with half a pixel: the quarter inch, 6.35 mm, lies between.
      name: 'a quarter inch, give or take half a pixel',
      ask: askOf({ plates: [inked(387.31, 300)] }),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'tight-margin', value: 6.345, places: 1 }],
    },
  ],
};
