import { askOf, boxAt, halftoneRegionOf, overlapOf } from '../support/askFixture.ts';
import type { CheckCases } from '../support/checkTester.ts';

type Region = Parameters<typeof halftoneRegionOf>[0];

/** Coral at 20°, 55 lpi, and Night as given, on each other unless they share nothing. */
function job(night: Region, sharedAreaMm2 = 500, coral: Region = {}) {
  const bars = { anglePlusMinusDeg: 0.05, rulingPlusMinusLpi: 0.02, rulingLpi: 55 };
  return askOf({
    inks: ['Coral', 'Night'],
    plates: [
      { ink: 'Coral', halftone: { regions: [halftoneRegionOf({ ...bars, angleDeg: 20, ...coral })] } },
      { ink: 'Night', halftone: { regions: [halftoneRegionOf({ ...bars, ...night })] } },
    ],
    overlaps: [overlapOf('Coral', 'Night', { sharedAreaMm2 })],
  });
}

export const cases: CheckCases = {
  rows: [
    {
      name: 'just more than it takes',
      ask: job({ angleDeg: 35.2 }),
      outcome: 'pass',
      readings: 1,
      tightest: 15.2,
      at: 'just over',
    },
    {
      name: 'as much as it takes, give or take a tenth',
      ask: job({ angleDeg: 35 }),
      outcome: 'needsReview',
      readings: 1,
      at: 'at',
      findings: [{ code: 'close-to-limit', value: 15, plusMinus: 0.1, inks: ['Coral', 'Night'], places: 1 }],
    },
    {
      name: 'just less',
      ask: job({ angleDeg: 34.8 }),
      outcome: 'fail',
      readings: 1,
      at: 'just under',
      findings: [{ code: 'clash', value: 14.8, places: 1 }],
    },
    {
      // 7.5° apart at 55 lpi: 25.4 / 55 / (2 sin 3.75°) = 3.53 mm. They share 40 × 30 mm.
      name: 'a coarse rosette where the two meet',
      ask: job({ angleDeg: 27.5, boxMm: boxAt(160, 130, 200, 200) }),
      outcome: 'fail',
      readings: 1,
      findings: [
        {
          code: 'clash',
          value: 7.5,
          places: 1,
          boxMm: [160, 130, 40, 30],
          details: ['55 lpi at 20° on 55 lpi at 27.5°, rosette of 3.53 mm'],
        },
      ],
    },
    {
      name: 'a quarter turn is none for round dots',
      ask: job({ angleDeg: 85 }),
      outcome: 'pass',
      readings: 1,
      tightest: 25,
    },
    {
      name: 'lines take a half turn',
      ask: job({ angleDeg: 110, dotShape: 'line' }, 500, { dotShape: 'line' }),
      outcome: 'pass',
      readings: 1,
      tightest: 90,
    },
    {
      name: 'one angle and two rulings',
      ask: job({ angleDeg: 20, rulingLpi: 45 }),
      outcome: 'fail',
      readings: 1,
      findings: [
        // 25.4 / (55 − 45) = 2.54 mm.
        { code: 'clash', value: 0, places: 1, details: ['55 lpi at 20° on 45 lpi at 20°, rosette of 2.54 mm'] },
      ],
    },
    {
      name: 'one angle and one ruling make no rosette',
      ask: job({ angleDeg: 20.02 }),
      outcome: 'notApplicable',
      readings: 0,
      why: /one ruling and one angle/,
    },
    {
      name: 'inks side by side',
      ask: job({ angleDeg: 27 }, 0),
      outcome: 'notApplicable',
      readings: 0,
      why: /do not print on each other/,
    },
    {
      name: 'halftones in different places',
      ask: job({ angleDeg: 27, boxMm: boxAt(10, 10, 20, 20) }),
      outcome: 'notApplicable',
      readings: 0,
      why: /nothing of the kind/,
    },
    {
      name: 'one of them is artwork',
      ask: job({ kind: 'pattern' }),
      outcome: 'notApplicable',
      readings: 0,
      why: /artwork/,
    },
  ],
};
