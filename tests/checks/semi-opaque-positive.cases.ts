import { askOf, boxAt } from '../support/askFixture.ts';
import type { CheckCases } from '../support/checkTester.ts';

function grey(semiOpaquePercent: number, more = {}) {
  return { ink: 'Coral', opacity: { semiOpaquePercent, ...more } };
}

export const cases: CheckCases = {
  rows: [
    {
      name: 'just less than the limit',
      ask: askOf({ plates: [grey(0.098)] }),
      outcome: 'pass',
      readings: 2,
      tightest: 0.098,
      at: 'just under',
    },
    {
      name: 'at the limit',
      ask: askOf({ plates: [grey(0.1)] }),
      outcome: 'pass',
      readings: 2,
      tightest: 0.1,
      at: 'at',
    },
    {
      // 300 × 360 mm are 108000 mm²: 540 mm² are 0.5 % of it, 54 mm² 0.05 %.
      name: 'two grey areas',
      ask: askOf({
        plates: [
          grey(0.55, {
            toneMinPercent: 30,
            toneMaxPercent: 60,
            semiOpaqueAreas: [
              { boxMm: boxAt(40, 50, 30, 20), areaMm2: 540, meanTonePercent: 60, kind: 'flat' },
              { boxMm: boxAt(80, 50, 9, 6), areaMm2: 54, meanTonePercent: 30, kind: 'varied' },
            ],
          }),
        ],
      }),
      outcome: 'fail',
      readings: 2,
      findings: [
        {
          code: 'grey-areas',
          value: 0.55,
          inks: ['Coral'],
          places: 2,
          boxMm: [40, 50, 30, 20],
          details: ['tones from 30 % to 60 %, part of it a picture or a run of tones'],
        },
      ],
    },
    {
      name: 'a tint beside a halftone whose dots have soft edges',
      ask: askOf({
        plates: [
          grey(0.5, {
            toneMinPercent: 60,
            toneMaxPercent: 60,
            semiOpaqueAreas: [{ boxMm: boxAt(40, 50, 30, 20), areaMm2: 540, meanTonePercent: 60, kind: 'flat' }],
            softScreenedPercent: 12,
          }),
        ],
      }),
      outcome: 'fail',
      readings: 2,
      findings: [
        {
          code: 'grey-areas',
          value: 0.5,
          places: 1,
          details: ['a tone of 60 %; 12 % more is halftone with soft dots, which may stay'],
        },
      ],
    },
    {
      name: 'just more than the limit',
      ask: askOf({ plates: [grey(0.104)] }),
      outcome: 'fail',
      readings: 2,
      at: 'just over',
      findings: [{ code: 'grey-areas', value: 0.104, places: 0 }],
    },
    {
      name: 'nowhere fully black',
      ask: askOf({ plates: [grey(0, { maxInkPercent: 80 })] }),
      outcome: 'fail',
      readings: 2,
      findings: [{ code: 'nowhere-black', value: 80, places: 1, boxMm: [20, 20, 260, 320] }],
    },
    {
      name: 'black to the last tone but one',
      ask: askOf({ plates: [grey(0, { maxInkPercent: 99.6 })] }),
      outcome: 'pass',
      readings: 2,
      tightest: 0,
    },
    {
      name: 'a clean film that could not be drawn completely',
      ask: askOf({ plates: [{ ink: 'Coral', doubts: ['A mask could not be drawn.'] }] }),
      outcome: 'needsReview',
      readings: 2,
      findings: [{ code: 'not-verified', value: 0, places: 1, details: ['A mask could not be drawn.'] }],
    },
    {
      name: 'a clear film',
      ask: askOf({ plates: [{ ink: 'Coral', opacity: { coveragePercent: 0, inkedBoxMm: null, maxInkPercent: 0 } }] }),
      outcome: 'notApplicable',
      readings: 0,
      why: /no ink/,
    },
  ],
};
