import { askOf } from '../support/askFixture.ts';
import type { CheckCases } from '../support/checkTester.ts';

const inks = ['Coral', 'Night'];

function job(coral: number, night: number, more: Parameters<typeof askOf>[0] = {}) {
  return askOf({
    inks,
    plates: [
      { ink: 'Coral', opacity: { coveragePercent: coral } },
      {
        ink: 'Night',
        opacity: { coveragePercent: night, inkedBoxMm: { xMm: 10, yMm: 10, widthMm: 280, heightMm: 340 } },
      },
    ],
    ...more,
  });
}

const separated = { form: 'separation', format: 'tiff', nature: 'bitmap' } as const;
const blank = { coveragePercent: 0, inkedBoxMm: null };

export const cases: CheckCases = {
  neverFails: 'a heavy print is a matter of taste, to be agreed with the customer',
  rows: [
    {
      name: 'two inks just less than the limit together',
      ask: job(70, 79),
      outcome: 'pass',
      readings: 1,
      tightest: 149,
      at: 'just under',
    },
    { name: 'at the limit', ask: job(70, 80), outcome: 'pass', readings: 1, tightest: 150, at: 'at' },
    {
      name: 'just more than the limit',
      ask: job(70, 81),
      outcome: 'needsReview',
      readings: 1,
      at: 'just over',
      findings: [
        {
          code: 'heavy-solid',
          value: 151,
          inks,
          places: 1,
          boxMm: [10, 10, 280, 340],
          details: ['Night 81 % and Coral 70 %'],
        },
      ],
    },
    {
      name: 'clear films',
      ask: askOf({ plates: [{ ink: 'Coral', opacity: blank }] }),
      outcome: 'notApplicable',
      readings: 0,
      why: /no ink/,
    },
    {
      name: 'a film of light tints',
      ask: askOf({
        plates: [
          { ink: 'Coral', opacity: { coveragePercent: 5, inkedBoxMm: null, semiOpaquePercent: 12, maxInkPercent: 40 } },
        ],
      }),
      outcome: 'pass',
      readings: 1,
      tightest: 5,
    },
    {
      name: 'separated films of one size lie on each other',
      ask: askOf({
        inks,
        films: [separated, { ...separated, id: 'f2', widthMm: 300.4 }],
        plates: [
          { ink: 'Coral', filmId: 'f1', opacity: { coveragePercent: 90 } },
          { ink: 'Night', filmId: 'f2', opacity: { coveragePercent: 80 } },
        ],
      }),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'heavy-solid', value: 170, inks, places: 1 }],
    },
    {
      name: 'separated films that differ in size cannot be added up',
      ask: askOf({
        inks,
        films: [separated, { ...separated, id: 'f2', widthMm: 301 }],
        plates: [
          { ink: 'Coral', filmId: 'f1', opacity: { coveragePercent: 90 } },
          { ink: 'Night', filmId: 'f2', opacity: { coveragePercent: 80 } },
        ],
      }),
      outcome: 'notApplicable',
      readings: 0,
      why: /differ in size/,
    },
    {
      name: 'two composite films are two prints',
      ask: askOf({
        inks,
        films: [{}, { id: 'f2' }],
        plates: [
          { ink: 'Coral', filmId: 'f1', opacity: { coveragePercent: 90 } },
          { ink: 'Night', filmId: 'f2', opacity: { coveragePercent: 80 } },
        ],
      }),
      outcome: 'pass',
      readings: 2,
      tightest: 90,
    },
    {
      name: 'an ink that could not be drawn completely covers the film at most once',
      ask: askOf({
        inks,
        plates: [
          { ink: 'Coral', opacity: { coveragePercent: 50 } },
          { ink: 'Night', opacity: { coveragePercent: 10 }, doubts: ['A pattern is missing.'] },
        ],
      }),
      outcome: 'pass',
      readings: 1,
      tightest: 60,
    },
    {
      name: 'an ink that could not be drawn completely and may make the print heavy',
      ask: askOf({
        inks,
        plates: [
          { ink: 'Coral', opacity: { coveragePercent: 51 } },
          { ink: 'Night', opacity: { coveragePercent: 10 }, doubts: ['A pattern is missing.'] },
        ],
      }),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'not-verified', value: 61, inks, places: 1, details: ['A pattern is missing.'] }],
    },
    {
      name: 'of many inks the three heaviest are named',
      ask: askOf({
        inks: ['Coral', 'Night', 'Sand', 'Sun', 'Rain'],
        plates: ['Coral', 'Night', 'Sand', 'Sun', 'Rain'].map((ink, index) => ({
          ink,
          opacity: { coveragePercent: 50 - 5 * index },
        })),
      }),
      outcome: 'needsReview',
      readings: 1,
      findings: [
        {
          code: 'heavy-solid',
          value: 200,
          places: 1,
          details: ['Coral 50 %, Night 45 %, Sand 40 % and 2 more 65 %'],
        },
      ],
    },
  ],
};
