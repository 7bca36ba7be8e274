import { askOf, boxAt, objectOf, overlapOf } from '../support/askFixture.ts';
import type { CheckCases } from '../support/checkTester.ts';

const inks = [
  { key: 'Night', name: 'Night', kind: 'spot', displayHex: '#1b2140', used: true },
  { key: 'Coral', name: 'Coral', kind: 'spot', displayHex: '#ef6a57', used: true },
  { key: 'Sand', name: 'Sand', kind: 'spot', displayHex: '#d8c39a', used: true },
] as const;

function paint(id: string, key: string, over: boolean, more = {}) {
  return objectOf({ id, inks: [{ key, tintRatio: 1 }], overprint: { fill: over, stroke: over, mode: 1 }, ...more });
}

function trap(id: string, widthMm: number) {
  return paint(id, 'Coral', true, { kind: 'stroke', strokeWidthMm: { min: widthMm, max: widthMm } });
}

function pair(sharedAreaMm2: number, maxOverlapMm: number | null) {
  const touchingLengthMm = maxOverlapMm === null ? 0 : 40;
  return askOf({
    inks: ['Sand', 'Coral'],
    films: [{ inks, objects: [paint('a', 'Sand', false), paint('b', 'Coral', true)] }],
    overlaps: [overlapOf('Sand', 'Coral', { sharedAreaMm2, maxOverlapMm, touchingLengthMm })],
  });
}

export const cases: CheckCases = {
  neverFails: "overprint is somebody's choice until they say it is not",
  zeroLimit: true,
  rows: [
    {
      name: 'a key over colours and a trap stroke',
      ask: askOf({
        films: [{ inks, objects: [paint('a', 'Coral', false), paint('b', 'Night', true), trap('c', 1.9)] }],
      }),
      outcome: 'pass',
      readings: 2,
      tightest: 0,
      at: 'at',
    },
    {
      name: 'a light colour over a dark one',
      ask: askOf({ films: [{ inks, objects: [paint('a', 'Night', false), paint('b', 'Sand', true)] }] }),
      outcome: 'needsReview',
      readings: 1,
      at: 'just over',
      findings: [{ code: 'light-over-dark', value: 1, inks: ['Sand', 'Night'], places: 1, boxMm: [50, 50, 40, 40] }],
    },
    {
      name: 'a darker colour over a lighter one',
      ask: askOf({ films: [{ inks, objects: [paint('a', 'Sand', false), paint('b', 'Coral', true)] }] }),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'colours-mix', value: 1, inks: ['Coral', 'Sand'], places: 1 }],
    },
    {
      name: 'a thick stroke is no trap',
      ask: askOf({ films: [{ inks, objects: [paint('a', 'Night', false), trap('c', 2.1)] }] }),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'light-over-dark', value: 1, inks: ['Coral', 'Night'], places: 1 }],
    },
    {
      name: 'overprint that lies on nothing, on its own ink, on what only touches it or on what is hidden',
      ask: askOf({
        films: [
          {
            inks,
            objects: [
              paint('a', 'Coral', true),
              paint('b', 'Coral', true),
              paint('c', 'Night', false, { boxMm: boxAt(90, 50, 40, 40) }),
              paint('d', 'Night', false, { hidden: 'layerOff' }),
              paint('e', 'Coral', true),
            ],
          },
        ],
      }),
      outcome: 'pass',
      readings: 3,
      tightest: 0,
    },
    {
      name: 'nothing overprints',
      ask: askOf({
        films: [
          {
            inks,
            objects: [
              paint('a', 'Coral', false),
              objectOf({ id: 'b', kind: 'stroke', overprint: { fill: true, stroke: false, mode: 1 } }),
            ],
          },
        ],
      }),
      outcome: 'notApplicable',
      readings: 0,
      why: /No object/,
    },

    {
      // Boxes of 40 × 40 mm share an outline of 160 mm: by 0.4 mm that is 64 mm², a fifth more for corners 76.8 mm².
      name: 'objects that are clipped to a trap overlay no more than that',
      ask: pair(76, 0.4),
      outcome: 'pass',
      readings: 1,
      tightest: 0,
    },
    {
      name: 'objects whose plates share more than their trap',
      ask: pair(78, 0.4),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'colours-mix', value: 1, inks: ['Coral', 'Sand'], places: 1 }],
    },
    {
      name: 'an ink wholly over another has no edge in common',
      ask: pair(100, null),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'colours-mix', value: 1, inks: ['Coral', 'Sand'], places: 1 }],
    },
    {
      name: 'boxes meet but the plates nowhere do',
      ask: askOf({
        inks: ['Sand', 'Coral'],
        films: [{ inks, objects: [paint('a', 'Sand', false), paint('b', 'Coral', true)] }],
      }),
      outcome: 'pass',
      readings: 1,
      tightest: 0,
    },
    {
      name: 'more objects than can be compared',
      ask: askOf({
        films: [{ inks, objects: Array.from({ length: 7072 }, (_, index) => paint(`o${index}`, 'Coral', true)) }],
      }),
      outcome: 'needsReview',
      readings: 0,
      findings: [{ code: 'not-measured', value: null, places: 0 }],
      why: /too many to compare/,
    },
  ],
};
