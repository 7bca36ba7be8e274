import type { ArtFit } from '../../src/measurements/marks.ts';
import { askOf, markAt, marksOf, registerOf } from '../support/askFixture.ts';
import type { CheckCases } from '../support/checkTester.ts';

function job(more: Parameters<typeof registerOf>[1]) {
  const plates = [registerOf('Coral'), registerOf('Night', more)];
  return askOf({ inks: ['Coral', 'Night'], registration: { referencePlateId: 'p-Coral', plates } });
}

function artFit(offMm: number): ArtFit {
  return {
    againstPlateId: 'p-Coral',
    edges: 400,
    scatterMm: 0.01,
    dxMm: offMm,
    dyMm: 0,
    rotationDeg: 0,
    scale: 1,
    plusMinusMm: 0.02,
    offMarks: { xMm: 20, yMm: 30, displacementMm: offMm },
  };
}

export const cases: CheckCases = {
  rows: [
    {
      name: 'just less than the press holds',
      ask: job({ worstOffsetMm: 0.239 }),
      outcome: 'pass',
      readings: 1,
      tightest: 0.239,
      at: 'just under',
    },
    {
      name: 'as much as the press holds, give or take 0.01',
      ask: job({ worstOffsetMm: 0.25 }),
      outcome: 'needsReview',
      readings: 1,
      at: 'at',
      findings: [{ code: 'close-to-limit', value: 0.25, plusMinus: 0.01, places: 0 }],
    },
    {
      // The lower mark lies 0.3 mm right of and 0.4 mm above the first film's: 0.5 mm away.
      name: 'one mark apart, and one that is not',
      ask: askOf({
        inks: ['Coral', 'Night'],
        marks: [
          marksOf('Coral', [markAt(150, 10), markAt(150, 350)]),
          marksOf('Night', [markAt(150, 10), markAt(150.3, 349.6)]),
        ],
        registration: {
          referencePlateId: 'p-Coral',
          plates: [
            registerOf('Coral'),
            registerOf('Night', {
              worstOffsetMm: 0.5,
              residualMm: 0.25,
              residuals: [
                { xMm: 150, yMm: 10, dxMm: -0.15, dyMm: 0.2 },
                { xMm: 150, yMm: 350, dxMm: 0.15, dyMm: -0.2 },
              ],
            }),
          ],
        },
      }),
      outcome: 'fail',
      readings: 1,
      findings: [
        {
          code: 'marks-apart',
          value: 0.5,
          inks: ['Night'],
          places: 2,
          boxMm: [146, 346, 8, 8],
          details: ['0.25 mm stay when the film is moved to fit as well as it can'],
        },
      ],
    },
    {
      name: 'just more than the press holds',
      ask: job({ worstOffsetMm: 0.261 }),
      outcome: 'fail',
      readings: 1,
      at: 'just over',
      findings: [{ code: 'marks-apart', value: 0.261, places: 0 }],
    },
    {
      name: 'one mark moved, the rest at rest',
      ask: job({ worstOffsetMm: 0.6, movedMark: { xMm: 150, yMm: 350, displacementMm: 0.6 } }),
      outcome: 'fail',
      readings: 1,
      findings: [
        {
          code: 'mark-moved',
          value: 0.6,
          places: 0,
          details: ['one mark lies 0.60 mm from where the others put it, at 150, 350 mm'],
        },
      ],
    },
    {
      name: 'art that lies elsewhere than its marks',
      ask: job({ artFit: artFit(0.5) }),
      outcome: 'needsReview',
      readings: 2,
      findings: [{ code: 'art-off-marks', value: 0.5, plusMinus: 0.03, places: 1, boxMm: [16, 26, 8, 8] }],
    },
    {
      name: 'art that lies where its marks put it',
      ask: job({ artFit: artFit(0.1) }),
      outcome: 'pass',
      readings: 2,
      tightest: 0.1,
    },
    {
      name: 'films that only their art compares',
      ask: job({ marksUsed: 0, artFit: artFit(0) }),
      outcome: 'notApplicable',
      readings: 0,
      why: /no marks in common/,
    },
    {
      // 0.2 mm passes what the press holds, not a trap of 0.15 mm.
      name: 'more than the smallest trap',
      ask: askOf({
        inks: ['Coral', 'Night'],
        ticket: { plateLimits: { trapMm: 0.15 } },
        registration: {
          referencePlateId: 'p-Coral',
          plates: [registerOf('Coral'), registerOf('Night', { worstOffsetMm: 0.2 })],
        },
      }),
      outcome: 'fail',
      readings: 1,
      findings: [{ code: 'marks-apart', value: 0.2, places: 0 }],
    },
    { name: 'a single film', ask: askOf(), outcome: 'notApplicable', readings: 0, why: /single film/ },
    {
      name: 'no marks in common',
      ask: askOf({ inks: ['Coral', 'Night'] }),
      outcome: 'notApplicable',
      readings: 0,
      why: /Fewer than two films/,
    },
  ],
};
