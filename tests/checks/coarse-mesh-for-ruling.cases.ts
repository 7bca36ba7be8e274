import { askOf, halftoneRegionOf } from '../support/askFixture.ts';
import type { CheckCases } from '../support/checkTester.ts';
import { mesh43, type TicketSpec } from '../support/ticketFixture.ts';

/** Lines an inch with so many threads of 43/cm to a line: 43 · 2.54 / ratio. */
const lpiFor = (ratio: number) => (43 * 2.54) / ratio;

function job(rulingLpi: number, more: Parameters<typeof halftoneRegionOf>[0] = {}, ticket: TicketSpec = {}) {
  const region = halftoneRegionOf({ rulingLpi, rulingPlusMinusLpi: rulingLpi / 1000, ...more });
  return askOf({
    plates: [{ ink: 'Coral', halftone: { regions: [region] } }],
    ticket: { mesh: mesh43, plateLimitsFrom: 'default', ...ticket },
  });
}

export const cases: CheckCases = {
  rows: [
    {
      name: 'just more threads than it takes',
      ask: job(lpiFor(3.504)),
      outcome: 'pass',
      readings: 1,
      tightest: 3.504,
      at: 'just over',
    },
    {
      name: 'as many as it takes, give or take a thousandth',
      ask: job(lpiFor(3.5)),
      outcome: 'needsReview',
      readings: 1,
      at: 'at',
      findings: [
        {
          code: 'coarse',
          value: 3.5,
          plusMinus: 0.0035,
          places: 1,
          boxMm: [100, 80, 100, 80],
          details: ['31.2 lpi through mesh 43/cm, 80 µm'],
        },
      ],
    },
    {
      name: 'fewer, but as few as some print with: people decide',
      ask: job(lpiFor(3.4)),
      outcome: 'needsReview',
      readings: 1,
      at: 'just under',
      findings: [{ code: 'coarse', value: 3.4, inks: ['Coral'], places: 1 }],
    },
    {
      name: 'fewer than anybody prints with',
      ask: job(55),
      outcome: 'fail',
      readings: 1,
      findings: [{ code: 'too-coarse', value: (43 * 2.54) / 55, places: 1 }],
    },
    {
      name: 'fewer than the ticket asks',
      ask: job(lpiFor(3.4), {}, { plateLimitsFrom: 'ticket' }),
      outcome: 'fail',
      readings: 1,
      findings: [{ code: 'too-coarse', value: 3.4, places: 1 }],
    },
    {
      name: 'two parts: the finer one counts',
      ask: askOf({
        plates: [
          {
            ink: 'Coral',
            halftone: {
              regions: [
                halftoneRegionOf({ rulingLpi: lpiFor(5) }),
                halftoneRegionOf({ rulingLpi: lpiFor(2.4), kind: 'ordered' }),
              ],
            },
          },
        ],
        ticket: { mesh: mesh43, plateLimitsFrom: 'default' },
      }),
      outcome: 'fail',
      readings: 2,
      findings: [{ code: 'too-coarse', value: 2.4, places: 1 }],
    },
    {
      name: 'no mesh on the ticket',
      ask: job(45, {}, { mesh: undefined }),
      outcome: 'needsReview',
      readings: 0,
      why: /does not say what Coral is printed through/,
      findings: [{ code: 'not-measured', value: null, places: 0 }],
    },
    {
      name: 'a screened part that is no kind for sure',
      ask: askOf({
        plates: [
          {
            ink: 'Coral',
            halftone: {
              unclassified: [
                {
                  boxMm: { xMm: 1, yMm: 1, widthMm: 2, heightMm: 2 },
                  areaMm2: 4,
                  why: 'Too few cells to read a ruling.',
                },
              ],
            },
          },
        ],
        ticket: { mesh: mesh43 },
      }),
      outcome: 'needsReview',
      readings: 0,
      why: /Too few cells/,
      findings: [{ code: 'not-measured', value: null, places: 0 }],
    },
    {
      name: 'regular artwork carries no tone',
      ask: job(55, { kind: 'pattern' }),
      outcome: 'notApplicable',
      readings: 0,
      why: /artwork, not halftone/,
    },
    {
      name: 'scattered dots have no ruling',
      ask: job(55, { kind: 'fm', rulingLpi: null, angleDeg: null }),
      outcome: 'notApplicable',
      readings: 0,
      why: /scattered/,
    },
  ],
};
