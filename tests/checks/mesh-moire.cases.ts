import type { Mesh } from '../../src/ticket/ticket.ts';
import { askOf, halftoneRegionOf } from '../support/askFixture.ts';
import type { CheckCases } from '../support/checkTester.ts';
import type { TicketSpec } from '../support/ticketFixture.ts';

const threadsPerCm = 120;
const threadUm = 34;
/** A mesh that lies as its count says and square to the film. */
const still: Mesh = {
  threadsPerCm,
  threadUm,
  openingUm: 10000 / threadsPerCm - threadUm,
  openingFrom: 'formula',
  weave: 'plain',
  stretchPercent: 0,
  squarenessDeg: 0,
};

/**
 * Lines at 0° of half tone whose third harmonic beats with the threads in bands so far apart: 3 · lines a mm less 12.
 * Their swing is 2 · sinc(3 / 2) · sinc(w / p).
 */
function lines(periodMm: number, ticket: TicketSpec = {}, more: Parameters<typeof halftoneRegionOf>[0] = {}) {
  const region = halftoneRegionOf({
    rulingLpi: ((threadsPerCm / 10 - 1 / periodMm) / 3) * 25.4,
    angleDeg: 0,
    dotShape: 'line',
    dotShapeClass: 'line',
    toneMinPercent: 50,
    toneMaxPercent: 50,
    rulingPlusMinusLpi: 0,
    anglePlusMinusDeg: 0,
    ...more,
  });
  return askOf({
    plates: [{ ink: 'Coral', halftone: { regions: [region] } }],
    ticket: { mesh: still, plateLimitsFrom: 'default', ...ticket },
  });
}

const openShare = 1 - (threadsPerCm * threadUm) / 10_000;
const sinc = (x: number) => Math.sin(Math.PI * x) / (Math.PI * x);
const swing = 200 * Math.abs(sinc(1.5)) * sinc(openShare);

export const cases: CheckCases = {
  rows: [
    {
      name: 'bands of 4 mm that swing by far more than the limit',
      ask: lines(4),
      outcome: 'fail',
      readings: 1,
      findings: [
        {
          code: 'seen-plainly',
          value: swing,
          plusMinus: swing / 10,
          inks: ['Coral'],
          places: 1,
          boxMm: [100, 80, 100, 80],
          details: ['an estimate for 1 m: bands 4.00 mm apart'],
        },
      ],
    },
    {
      name: 'the same seen from closer by, where 2.5 mm are long',
      ask: lines(2.5),
      outcome: 'needsReview',
      readings: 1,
      findings: [
        { code: 'may-be-seen', value: swing, places: 1, details: ['an estimate for 1 m: bands 2.50 mm apart'] },
      ],
    },
    {
      name: 'a limit that the swing passes a little',
      ask: lines(4, { plateLimits: { moirePercent: swing / 1.02 } }),
      outcome: 'needsReview',
      readings: 1,
      at: 'just over',
      findings: [{ code: 'may-be-seen', value: swing, places: 1 }],
    },
    {
      name: 'a limit that it just reaches',
      ask: lines(4, { plateLimits: { moirePercent: swing } }),
      outcome: 'needsReview',
      readings: 1,
      at: 'at',
      findings: [{ code: 'may-be-seen', value: swing, places: 1 }],
    },
    {
      name: 'a limit that only its error bar reaches',
      ask: lines(4, { plateLimits: { moirePercent: swing * 1.04 } }),
      outcome: 'needsReview',
      readings: 1,
      at: 'just under',
      findings: [{ code: 'may-be-seen', value: swing, places: 1 }],
    },
    {
      name: 'a limit well above',
      ask: lines(4, { plateLimits: { moirePercent: swing * 1.2 } }),
      outcome: 'pass',
      readings: 1,
      tightest: swing,
    },
    {
      name: 'bands too short to be seen',
      ask: lines(1),
      outcome: 'pass',
      readings: 1,
      // What is left long enough: 11 lines a 3 mm, 13 times, are 47.7 a mm, a third short of four times the threads.
      tightest: 200 * Math.abs(sinc(6.5) * sinc(4 * openShare)),
    },
    {
      name: 'the same on a mesh that may be stretched until they are long',
      // Stretched by 9.1 % its 12 threads a mm are the 11 of three times the lines: no bands at all, but one shade.
      ask: lines(1, { mesh: { ...still, stretchPercent: 15 } }),
      outcome: 'fail',
      readings: 1,
      findings: [
        {
          code: 'seen-plainly',
          value: swing,
          places: 1,
          details: ['an estimate for 1 m: bands 1.00 mm or more apart'],
        },
      ],
    },
    {
      name: 'no mesh on the ticket',
      ask: lines(4, { mesh: undefined }),
      outcome: 'notApplicable',
      readings: 0,
      why: /No mesh is given/,
    },
    {
      name: 'regular artwork',
      ask: lines(4, {}, { kind: 'pattern' }),
      outcome: 'notApplicable',
      readings: 0,
      why: /artwork/,
    },
    {
      name: 'scattered dots',
      ask: lines(4, {}, { kind: 'fm', rulingLpi: null, angleDeg: null }),
      outcome: 'notApplicable',
      readings: 0,
      why: /scattered/,
    },
  ],
};
