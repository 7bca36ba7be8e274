import { askOf, boxAt } from '../support/askFixture.ts';
import type { CheckCases } from '../support/checkTester.ts';

const edges = boxAt(0, 0, 300, 360);
const negative = {
  form: 'separation',
  nature: 'bitmap',
  notes: [{ code: 'mostly-black', message: 'Most of the film is opaque and so is its border.', affects: 'nothing' }],
} as const;

function plate(coveragePercent: number, inkedBoxMm: typeof edges) {
  return { ink: 'Coral', opacity: { coveragePercent, inkedBoxMm } };
}

export const cases: CheckCases = {
  rows: [
    {
      name: 'a part that could not be drawn makes no negative of a positive',
      ask: askOf({ plates: [{ ...plate(30, boxAt(20, 20, 100, 100)), doubts: ['A pattern is missing.'] }] }),
      outcome: 'pass',
      readings: 1,
      tightest: 30,
    },
    {
      name: 'a film black at its border of which a part could not be drawn',
      ask: askOf({ films: [negative], plates: [{ ...plate(30, edges), doubts: ['The file ends early.'] }] }),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'not-verified', value: 30, places: 1, details: ['The file ends early.'] }],
    },
    {
      name: 'just less than half, to the edges',
      ask: askOf({ plates: [plate(49, edges)] }),
      outcome: 'pass',
      readings: 1,
      tightest: 49,
      at: 'just under',
    },
    {
      name: 'half',
      ask: askOf({ plates: [plate(50, edges)], films: [negative] }),
      outcome: 'pass',
      readings: 1,
      tightest: 50,
      at: 'at',
    },
    {
      name: 'just more than half with a black border on a separated film',
      ask: askOf({ plates: [plate(51, edges)], films: [negative] }),
      outcome: 'fail',
      readings: 1,
      at: 'just over',
      findings: [
        {
          code: 'looks-like-a-negative',
          value: 51,
          inks: ['Coral'],
          places: 1,
          boxMm: [0, 0, 300, 360],
          details: ['its border is black too'],
        },
      ],
    },
    {
      name: 'more than half, inked to the edges of vector art',
      ask: askOf({ plates: [plate(80, edges)] }),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'inked-to-the-edges', value: 80, places: 1, details: ['it is inked from edge to edge'] }],
    },
    {
      name: 'a solid with clear film around it is a positive, and a small film beside it',
      ask: askOf({ inks: ['Coral', 'Night'], plates: [plate(80, boxAt(10, 10, 280, 340)), { ink: 'Night' }] }),
      outcome: 'pass',
      readings: 2,
      tightest: 12,
    },
    {
      name: 'a clear film',
      ask: askOf({ plates: [{ ink: 'Coral', opacity: { coveragePercent: 0, inkedBoxMm: null } }] }),
      outcome: 'notApplicable',
      readings: 0,
      why: /no ink/,
    },

    {
      name: 'a separated film inked to its edges whose border is not all black',
      ask: askOf({ plates: [plate(60, edges)], films: [{ form: 'separation', nature: 'bitmap' }] }),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'inked-to-the-edges', value: 60, places: 1 }],
    },

    {
      name: 'a film of light tints has no black border',
      ask: askOf({
        plates: [
          {
            ink: 'Coral',
            opacity: { coveragePercent: 45, inkedBoxMm: null, semiOpaquePercent: 100, maxInkPercent: 45 },
          },
        ],
      }),
      outcome: 'pass',
      readings: 1,
      tightest: 45,
    },
  ],
};
