import { askOf, boxAt, halftoneRegionOf } from '../support/askFixture.ts';
import type { CheckCases } from '../support/checkTester.ts';
import { mesh43, type TicketSpec } from '../support/ticketFixture.ts';

/** Areas by tone: so much at each of these, the rest of 100 mm² at 50 %. */
function areas(some: Readonly<Record<number, number>>): number[] {
  const rest = 100 - Object.values(some).reduce((sum, area) => sum + area, 0);
  return Array.from({ length: 101 }, (_, tone) => some[tone] ?? (tone === 50 ? rest : 0));
}

/** Lines of 20 lpi with a limit of 0.127 mm for dots and holes: one tenth of the period, so 10 % to 90 %. */
function job(some: Readonly<Record<number, number>>, bar = 0, ticket: TicketSpec = {}) {
  const region = halftoneRegionOf({
    rulingLpi: 20,
    dotShape: 'line',
    dotShapeClass: 'line',
    tonePlusMinusPercent: bar,
    areaByToneMm2: areas(some),
    lightest: [
      { boxMm: boxAt(100, 80), tonePercent: 4 },
      { boxMm: boxAt(120, 80), tonePercent: 12 },
    ],
    darkest: [{ boxMm: boxAt(150, 90), tonePercent: 96 }],
  });
  return askOf({
    plates: [{ ink: 'Coral', halftone: { regions: [region] } }],
    ticket: { mesh: mesh43, plateLimits: { minDotMm: 0.127, minIslandMm: 0.127 }, ...ticket },
  });
}

export const cases: CheckCases = {
  rows: [
    {
      name: 'a little less than may be lost',
      ask: job({ 4: 1.95 }),
      outcome: 'pass',
      readings: 2,
      tightest: 1.95,
      at: 'just under',
    },
    { name: 'as much as may be lost', ask: job({ 4: 2 }), outcome: 'pass', readings: 2, tightest: 2, at: 'at' },
    {
      name: 'a little more, too light',
      ask: job({ 4: 1.05, 7: 1 }),
      outcome: 'fail',
      readings: 2,
      at: 'just over',
      findings: [
        {
          code: 'lights-lost',
          value: 2.05,
          plusMinus: 0,
          inks: ['Coral'],
          places: 1,
          boxMm: [100, 80, 2, 2],
          details: ['tones lighter than 10 %'],
        },
      ],
    },
    {
      name: 'too dark',
      ask: job({ 96: 30 }),
      outcome: 'fail',
      readings: 2,
      findings: [
        { code: 'darks-filled', value: 30, places: 1, boxMm: [150, 90, 2, 2], details: ['tones darker than 90 %'] },
      ],
    },
    {
      name: 'tones whose error bar the limit cuts through',
      // 10 mm² between 10.5 and 11.5 %; the bar of 1 % takes half of what stands from 10.5 to 11 for lost.
      ask: job({ 11: 10 }, 1),
      outcome: 'needsReview',
      readings: 2,
      findings: [
        {
          code: 'close-to-limit',
          value: 0,
          plusMinus: 5,
          places: 1,
          details: ['tones lighter than 10 %'],
        },
      ],
    },
    {
      name: 'clear and solid are no halftone',
      ask: job({ 0: 40, 100: 40, 50: 20 }),
      outcome: 'pass',
      readings: 2,
      tightest: 0,
    },
    {
      name: 'regular artwork',
      ask: askOf({ plates: [{ ink: 'Coral', halftone: { regions: [halftoneRegionOf({ kind: 'pattern' })] } }] }),
      outcome: 'notApplicable',
      readings: 0,
      why: /artwork/,
    },
    {
      name: 'no mesh and only the floors of loose dots',
      ask: job({ 4: 50 }, 0, { mesh: undefined, plateLimitsFrom: 'default' }),
      outcome: 'notApplicable',
      readings: 0,
      why: /No mesh/,
    },
  ],
};
