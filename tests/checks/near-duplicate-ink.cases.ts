import { askOf } from '../support/askFixture.ts';
import type { CheckCases } from '../support/checkTester.ts';

// Greys with no hue: CIEDE2000 is ΔL* / SL, SL = 1 + 0.015 (L̄ - 50)² / √(20 + (L̄ - 50)²). L* of #777777 is 50.034439 and
// of #7a7a7a 51.223151 (CIE 1976 L* of the sRGB transfer curve): L̄ = 50.628795, SL = 1.001321, ΔE00 = 1.187153.
const grey77to7a = 1.1871531;

export const cases: CheckCases = {
  rows: [
    {
      name: 'two inks far apart',
      ask: askOf({
        inks: [
          { name: 'Night', displayHex: '#000000' },
          { name: 'Paper', displayHex: '#ffffff' },
        ],
      }),
      outcome: 'pass',
      readings: 1,
      tightest: 100,
    },
    {
      name: 'two greys over the limit',
      ask: askOf({
        ticket: { limits: { nearDuplicateDeltaE: 1.15 } },
        inks: [
          { name: 'Slate', displayHex: '#777777' },
          { name: 'Rain', displayHex: '#7a7a7a' },
        ],
      }),
      outcome: 'pass',
      readings: 1,
      tightest: grey77to7a,
      at: 'just over',
    },
    {
      name: 'two greys under the limit',
      ask: askOf({
        ticket: { limits: { nearDuplicateDeltaE: 1.2 } },
        inks: [
          { name: 'Slate', displayHex: '#777777' },
          { name: 'Rain', displayHex: '#7a7a7a' },
        ],
      }),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'similar-colour', value: grey77to7a, inks: ['Slate', 'Rain'], places: 0 }],
      at: 'just under',
    },
    {
      name: 'black and white against a limit of their difference, which is 100',
      ask: askOf({
        ticket: { limits: { nearDuplicateDeltaE: 100 } },
        inks: [
          { name: 'Night', displayHex: '#000000' },
          { name: 'Paper', displayHex: '#ffffff' },
        ],
      }),
      outcome: 'pass',
      readings: 1,
      tightest: 100,
      at: 'at',
    },
    {
      name: 'one ink under two spellings',
      ask: askOf({
        inks: [
          { name: 'Coral', displayHex: '#e2725b' },
          { name: 'coral copy', displayHex: '#e2725b' },
          { name: 'Night', displayHex: '#000000' },
        ],
      }),
      outcome: 'fail',
      readings: 3,
      findings: [{ code: 'same-ink-twice', value: 0, inks: ['Coral', 'coral copy'], places: 0 }],
    },
    {
      name: 'one name in two colours',
      ask: askOf({
        inks: [
          { name: 'Coral', displayHex: '#000000' },
          { name: 'CORAL', displayHex: '#ffffff' },
        ],
      }),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'same-name', value: 100, places: 0, details: ['one name, written two ways'] }],
    },
    {
      name: 'two films of one name that carry no colour',
      ask: askOf({ inks: ['Coral', 'coral'], films: [{ form: 'separation', nature: 'bitmap', format: 'tiff' }] }),
      outcome: 'needsReview',
      readings: 0,
      findings: [{ code: 'not-measured', value: null, inks: ['Coral', 'coral'], places: 0 }],
      why: /do not say what colour/,
    },
    {
      name: 'two films of two names that carry no colour',
      ask: askOf({ inks: ['Coral', 'Night'], films: [{ form: 'separation', nature: 'bitmap', format: 'png' }] }),
      outcome: 'notApplicable',
      readings: 0,
      why: /no ink colours/,
    },
    {
      name: 'a white base and a white highlight are two frames by design',
      ask: askOf({
        ticket: { roles: { 'White base': 'underbase', Spark: 'highlight' } },
        inks: [
          { name: 'White base', displayHex: '#ffffff' },
          { name: 'Spark', displayHex: '#ffffff' },
        ],
      }),
      outcome: 'notApplicable',
      readings: 0,
      why: /by design/,
    },
    {
      name: 'one ink',
      ask: askOf({ inks: ['Coral', { name: 'Coral 2', printed: false }] }),
      outcome: 'notApplicable',
      readings: 0,
      why: /one ink/,
    },

    {
      name: 'channels of a TIFF carry no colour either',
      ask: askOf({ inks: ['Coral', 'coral'], films: [{ nature: 'bitmap', format: 'tiff' }] }),
      outcome: 'needsReview',
      readings: 0,
      findings: [{ code: 'not-measured', value: null, places: 0 }],
    },
    {
      name: 'a layered picture carries its inks’ colours',
      ask: askOf({
        inks: [
          { name: 'Night', displayHex: '#000000' },
          { name: 'Paper', displayHex: '#ffffff' },
        ],
        films: [{ nature: 'bitmap', format: 'psd' }],
      }),
      outcome: 'pass',
      readings: 1,
      tightest: 100,
    },
    {
      name: 'one ink with a colour and one without',
      ask: askOf({
        inks: ['Coral', 'Night'],
        films: [{}, { form: 'separation', nature: 'bitmap', format: 'png' }],
        plates: [{ ink: 'Coral' }, { ink: 'Night', filmId: 'f2' }],
      }),
      outcome: 'notApplicable',
      readings: 0,
      why: /no ink colours/,
    },

    {
      name: 'two numbered inks of two colours',
      ask: askOf({
        inks: [
          { name: 'Spot 1', displayHex: '#000000' },
          { name: 'Spot 2', displayHex: '#ffffff' },
        ],
      }),
      outcome: 'pass',
      readings: 1,
      tightest: 100,
    },
    {
      name: 'an ink and its numbered copy',
      ask: askOf({
        inks: [
          { name: 'Coral', displayHex: '#000000' },
          { name: 'Coral 2', displayHex: '#ffffff' },
        ],
      }),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'same-name', value: 100, places: 0 }],
    },
  ],
};
