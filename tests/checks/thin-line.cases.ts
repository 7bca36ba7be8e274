import { askOf, boxAt, halftoneRegionOf, narrowAt, objectOf, screenedOf } from '../support/askFixture.ts';
import type { CheckCases } from '../support/checkTester.ts';
import { boxFill, strokeAlong } from '../support/outlines.ts';

const blank = { coveragePercent: 0, inkedBoxMm: null };

/** A level stroke through 100, 40. */
function strokeOf(id: string, widthMm: number, more = {}) {
  return objectOf({
    id,
    ...strokeAlong([80, 40, 120, 40], widthMm),
    boxMm: boxAt(80, 40 - widthMm / 2, 40, widthMm),
    ...more,
  });
}

export const cases: CheckCases = {
  rows: [
    {
      name: 'a line just over the limit by more than its error',
      ask: askOf({ plates: [{ ink: 'Coral', detail: { lines: [narrowAt(0.365, 100, 40, { plusMinusMm: 0.01 })] } }] }),
      outcome: 'pass',
      readings: 1,
      tightest: 0.365,
      at: 'just over',
    },
    {
      name: 'a line at the limit, give or take 0.02',
      ask: askOf({ plates: [{ ink: 'Coral', detail: { lines: [narrowAt(0.35)] } }] }),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'close-to-limit', value: 0.35, plusMinus: 0.02, inks: ['Coral'], places: 1 }],
      at: 'at',
    },
    {
      name: 'a line just under the limit by more than its error, and a thinner one',
      ask: askOf({
        plates: [
          {
            ink: 'Coral',
            detail: {
              lines: [narrowAt(0.335, 100, 40, { plusMinusMm: 0.01 }), narrowAt(0.338, 50, 40, { plusMinusMm: 0.01 })],
            },
          },
        ],
      }),
      outcome: 'fail',
      readings: 2,
      findings: [
        { code: 'breaks-up', value: 0.335, plusMinus: 0.01, places: 2, boxMm: [98.5, 40 - 0.335 / 2, 3, 0.335] },
      ],
      at: 'just under',
    },
    {
      name: 'nothing narrower than was searched for',
      ask: askOf({ plates: [{ ink: 'Coral', detail: { searchedToMm: 1.2 } }] }),
      outcome: 'pass',
      readings: 1,
      tightest: 1.2,
    },
    {
      name: 'the stroke that was measured says its exact width, and is one place',
      ask: askOf({
        films: [{ objects: [strokeOf('s1', 0.34), strokeOf('s2', 0.34, { hidden: 'layerOff' })] }],
        plates: [{ ink: 'Coral', detail: { lines: [narrowAt(0.355)] } }],
      }),
      outcome: 'fail',
      readings: 1,
      findings: [{ code: 'breaks-up', value: 0.34, plusMinus: 0.00005, places: 1 }],
    },
    {
      name: 'a stroke of exactly the limit passes where its pixels could not settle it',
      ask: askOf({
        films: [{ objects: [strokeOf('s1', 0.35)] }],
        plates: [{ ink: 'Coral', detail: { lines: [narrowAt(0.345)] } }],
      }),
      outcome: 'pass',
      readings: 1,
      tightest: 0.35,
    },
    {
      name: 'a stroke of another width nearby leaves the measured line as it is',
      ask: askOf({
        films: [{ objects: [strokeOf('s1', 0.5), objectOf({ id: 's2', ...strokeAlong([80, 44, 120, 44], 0.2) })] }],
        plates: [{ ink: 'Coral', detail: { lines: [narrowAt(0.2)] } }],
      }),
      outcome: 'fail',
      readings: 1,
      findings: [{ code: 'breaks-up', value: 0.2, plusMinus: 0.02, places: 1 }],
    },
    {
      name: 'a hairline too thin for the pixels',
      ask: askOf({ films: [{ objects: [strokeOf('s1', 0.03)] }] }),
      outcome: 'fail',
      readings: 1,
      findings: [{ code: 'breaks-up', value: 0.03, plusMinus: 0.00005, places: 1, boxMm: [80, 39.985, 40, 0.03] }],
    },
    {
      name: 'a hairline that may be the outline of a fill in the same ink',
      ask: askOf({
        films: [{ objects: [strokeOf('s1', 0.03), objectOf({ id: 'o1', boxMm: boxAt(70, 30, 60, 20) })] }],
      }),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'breaks-up', value: 0.03, places: 1 }],
    },
    {
      name: 'strokes in another ink, in white and wide enough to be measured are no thin lines',
      ask: askOf({
        films: [
          {
            objects: [
              strokeOf('s1', 0.03, { inks: [{ key: 'Night', tintRatio: 1 }] }),
              strokeOf('s2', 0.03, { isWhite: true, inks: [] }),
              strokeOf('s3', 0.2),
            ],
          },
        ],
      }),
      outcome: 'pass',
      readings: 1,
      tightest: 1,
    },
    {
      // 4 mm are narrower than 1 mm, so with straight sides 4 × 0.35 / 1 = 1.4 mm are narrower than 0.35 mm. It widens by
      // 1 mm over 4, so 0.02 mm of its width are 0.08 mm of its length.
      name: 'a long point loses its tip and never fails',
      ask: askOf({
        plates: [
          {
            ink: 'Coral',
            detail: { lines: [narrowAt(0.02, 100, 40, { kind: 'taper', lengthMm: 4, medianWidthMm: 0.5 })] },
          },
        ],
      }),
      outcome: 'needsReview',
      readings: 2,
      findings: [
        {
          code: 'tapers-away',
          value: 1.4,
          plusMinus: 0.08,
          places: 1,
          details: [
            'The longest point thins out to nothing over 1.40 mm, where it is narrower than 0.35 mm; 1.00 mm may go.',
          ],
        },
      ],
    },
    {
      // 2.8 × 0.35 = 0.98 mm.
      name: 'a short point loses too little to mention',
      ask: askOf({
        plates: [{ ink: 'Coral', detail: { lines: [narrowAt(0.02, 100, 40, { kind: 'taper', lengthMm: 2.8 })] } }],
      }),
      outcome: 'pass',
      readings: 2,
      tightest: 1,
    },
    {
      name: 'what is screened and was not read as halftone is not measured, and the rest of its plate is',
      ask: askOf({
        plates: [
          {
            ink: 'Coral',
            detail: {
              screened: screenedOf(8, [boxAt(10, 10, 50, 50)]),
            },
          },
        ],
      }),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'not-measured', value: null, places: 0 }],
      why: /^86 cm² of Coral is full of small dots or holes that were not read as halftone/,
    },
    {
      name: 'a halftone is left to the checks of halftones',
      ask: askOf({
        plates: [
          {
            ink: 'Coral',
            detail: {
              screened: screenedOf(8, [boxAt(100, 80, 100, 80)]),
            },
            halftone: { regions: [halftoneRegionOf()] },
          },
        ],
      }),
      outcome: 'pass',
      readings: 1,
      tightest: 1,
      leftToOthers: [/^80 cm² of Coral is halftone\. Its dots are judged neither as lines nor as spots/],
    },
    {
      name: 'a plate of nothing but halftone has no lines to speak of',
      ask: askOf({
        plates: [
          {
            ink: 'Coral',
            detail: {
              screened: screenedOf(8, [boxAt(100, 80, 100, 80)]),
            },
            // 80 cm² of 45 % on average, on a film of 1,080 cm².
            opacity: { coveragePercent: 3.35 },
            halftone: { regions: [halftoneRegionOf()] },
          },
        ],
      }),
      outcome: 'notApplicable',
      readings: 0,
      why: /^All ink of Coral is halftone/,
    },
    {
      name: 'of two screened parts the one read as halftone is left to others, and the other is not measured',
      ask: askOf({
        plates: [
          {
            ink: 'Coral',
            detail: {
              screened: screenedOf(12, [boxAt(100, 80, 100, 80), boxAt(10, 10, 60, 70)]),
            },
            halftone: {
              regions: [
                halftoneRegionOf(),
                halftoneRegionOf({ kind: 'pattern', boxMm: boxAt(10, 10, 60, 70), areaMm2: 4200 }),
              ],
            },
          },
        ],
      }),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'not-measured', value: null, places: 0 }],
      why: /^50 cm² of Coral is full of small dots or holes that were not read as halftone/,
      leftToOthers: [/^80 cm² of Coral is halftone/],
    },
    {
      name: 'a good line on a plate that could not be drawn completely',
      ask: askOf({
        plates: [{ ink: 'Coral', doubts: ['A pattern could not be drawn.'], detail: { lines: [narrowAt(0.9)] } }],
      }),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'not-verified', value: 0.9, places: 1, details: ['A pattern could not be drawn.'] }],
    },
    {
      name: 'a bad line on a plate that could not be drawn completely still fails',
      ask: askOf({
        plates: [{ ink: 'Coral', doubts: ['A pattern could not be drawn.'], detail: { lines: [narrowAt(0.2)] } }],
      }),
      outcome: 'fail',
      readings: 1,
      findings: [{ code: 'breaks-up', value: 0.2, places: 1 }],
    },
    {
      name: 'two plates, each by its own limit',
      ask: askOf({
        inks: ['Coral', 'Night'],
        ticket: { screens: [{ ink: 'Night', limits: { minLineMm: 0.15 } }] },
        plates: [
          { ink: 'Coral', detail: { lines: [narrowAt(0.2)] } },
          { ink: 'Night', detail: { lines: [narrowAt(0.2)] } },
        ],
      }),
      outcome: 'fail',
      readings: 2,
      findings: [{ code: 'breaks-up', value: 0.2, inks: ['Coral'], places: 1 }],
    },
    {
      name: 'a clear film',
      ask: askOf({ plates: [{ ink: 'Coral', opacity: blank }] }),
      outcome: 'notApplicable',
      readings: 0,
      why: /no ink/,
    },
    {
      name: 'a clear film that could not be drawn completely',
      ask: askOf({ plates: [{ ink: 'Coral', opacity: blank, doubts: ['A pattern could not be drawn.'] }] }),
      outcome: 'needsReview',
      readings: 0,
      findings: [{ code: 'not-verified', value: null, places: 0, details: ['A pattern could not be drawn.'] }],
      why: /could not be drawn completely/,
    },

    {
      name: 'a hairline of 0 % of the ink is none',
      ask: askOf({ films: [{ objects: [strokeOf('s1', 0.03, { inks: [{ key: 'Coral', tintRatio: 0 }] })] }] }),
      outcome: 'pass',
      readings: 1,
      tightest: 1,
    },
    {
      name: 'a hairline in the registration colour is none',
      ask: askOf({
        films: [
          {
            inks: [{ key: 'Coral', name: 'All', kind: 'registration', displayHex: '#000000', used: true }],
            objects: [strokeOf('s1', 0.03)],
          },
        ],
      }),
      outcome: 'pass',
      readings: 1,
      tightest: 1,
    },
    {
      name: 'a hairline that runs off the page is shown on it',
      ask: askOf({
        films: [
          {
            objects: [
              objectOf({ id: 's1', ...strokeAlong([-20, 40, 40, 40], 0.03), boxMm: boxAt(-20, 39.985, 60, 0.03) }),
            ],
          },
        ],
      }),
      outcome: 'fail',
      readings: 1,
      findings: [{ code: 'breaks-up', value: 0.03, places: 1, boxMm: [0, 39.985, 40, 0.03] }],
    },
    {
      name: 'of two strokes over each other the topmost is meant, and what prints is as wide as both',
      ask: askOf({
        films: [
          {
            objects: [
              objectOf({ id: 's1', ...strokeAlong([80, 40.01, 120, 40.01], 0.2) }),
              objectOf({ id: 's2', ...strokeAlong([90, 40, 110, 40], 0.2) }),
            ],
          },
        ],
        plates: [{ ink: 'Coral', detail: { lines: [narrowAt(0.205)] } }],
      }),
      outcome: 'fail',
      readings: 1,
      findings: [{ code: 'breaks-up', value: 0.21, plusMinus: 0.00005, places: 1 }],
    },
    {
      name: 'a filled bar says its exact width',
      ask: askOf({
        films: [{ objects: [objectOf({ id: 'o1', ...boxFill(80, 39.83, 40, 0.34) })] }],
        plates: [{ ink: 'Coral', detail: { lines: [narrowAt(0.345, 100, 40, { plusMinusMm: 0.042 })] } }],
      }),
      outcome: 'fail',
      readings: 1,
      findings: [{ code: 'breaks-up', value: 0.34, plusMinus: 0.00005, places: 1 }],
    },
    {
      name: 'a text beside a bar may make it broader, so the pixels have the last word',
      ask: askOf({
        films: [
          {
            objects: [
              objectOf({ id: 'o1', ...boxFill(80, 39.83, 40, 0.34) }),
              objectOf({ id: 'o2', kind: 'text', boxMm: boxAt(95, 40.1, 10, 3) }),
            ],
          },
        ],
        plates: [{ ink: 'Coral', detail: { lines: [narrowAt(0.36)] } }],
      }),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'close-to-limit', value: 0.36, plusMinus: 0.02, places: 1 }],
    },
    {
      name: 'a bar cut to less than its own width by white says what is left of it',
      ask: askOf({
        films: [
          {
            objects: [
              objectOf({ id: 'o1', ...boxFill(80, 39.83, 40, 0.34) }),
              objectOf({ id: 'o2', ...boxFill(80, 40.16, 40, 1), isWhite: true, inks: [] }),
            ],
          },
        ],
        plates: [{ ink: 'Coral', detail: { lines: [narrowAt(0.335)] } }],
      }),
      outcome: 'fail',
      readings: 1,
      findings: [{ code: 'breaks-up', value: 0.33, plusMinus: 0.00005, places: 1 }],
    },
    {
      name: 'a bar filled too thin for the pixels',
      ask: askOf({ films: [{ objects: [objectOf({ id: 'o1', ...boxFill(80, 39.99, 40, 0.02) })] }] }),
      outcome: 'fail',
      readings: 1,
      findings: [{ code: 'breaks-up', value: 0.02, plusMinus: 0.00005, places: 1, boxMm: [80, 39.99, 40, 0.02] }],
    },
    {
      name: 'a hairline along the edge of a solid in the same ink is part of it',
      ask: askOf({
        films: [{ objects: [strokeOf('s1', 0.03), objectOf({ id: 'o1', ...boxFill(80, 40, 40, 10) })] }],
      }),
      outcome: 'pass',
      readings: 1,
      tightest: 1,
    },
    {
      name: 'a hairline that is seen through may be broader than it says',
      ask: askOf({ films: [{ objects: [strokeOf('s1', 0.03, { outline: undefined, opacityRatio: 0.8 })] }] }),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'breaks-up', value: 0.03, places: 1 }],
    },

    {
      name: 'a plate without narrow lines that could not be drawn completely',
      ask: askOf({ plates: [{ ink: 'Coral', doubts: ['A pattern could not be drawn.'] }] }),
      outcome: 'needsReview',
      readings: 1,
      findings: [
        {
          code: 'not-verified',
          value: null,
          places: 0,
          details: ['A pattern could not be drawn.'],
        },
      ],
    },

    {
      name: 'an ink so light that there is no black to measure',
      ask: askOf({
        plates: [
          { ink: 'Coral', opacity: { coveragePercent: 5, inkedBoxMm: null, semiOpaquePercent: 12, maxInkPercent: 40 } },
        ],
      }),
      outcome: 'needsReview',
      readings: 0,
      findings: [{ code: 'not-measured', value: null, places: 0 }],
      why: /no black to measure/,
    },
  ],
};
