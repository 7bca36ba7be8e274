import { askOf, spotAt } from '../support/askFixture.ts';
import type { CheckCases } from '../support/checkTester.ts';
import { mesh43 } from '../support/ticketFixture.ts';

const ticket = { mesh: mesh43 };
const films = [{ nature: 'bitmap' }] as const;
// Half the opening of 43 threads per cm of 80 µm: (10000 / 43 - 80) / 2 µm.
const limitMm = (10000 / 43 - 80) / 2000;

function specks(...islands: ReturnType<typeof spotAt>[]) {
  return { ink: 'Coral', detail: { islands } };
}

export const cases: CheckCases = {
  neverFails: 'a speck may be art; only a person can tell dirt from a dot',
  rows: [
    {
      name: 'a speck too small to hold',
      ask: askOf({ ticket, films, plates: [specks(spotAt(0.074, 10, 10, 0.002))] }),
      outcome: 'pass',
      readings: 1,
      tightest: 0.074,
      at: 'just under',
    },
    {
      name: 'a speck of just that size',
      ask: askOf({ ticket, films, plates: [specks(spotAt(limitMm, 10, 10, 0.02))] }),
      outcome: 'needsReview',
      readings: 1,
      at: 'at',
      findings: [{ code: 'close-to-limit', value: limitMm, plusMinus: 0.02, places: 1 }],
    },
    {
      name: 'a speck just large enough to hold',
      ask: askOf({ ticket, films, plates: [specks(spotAt(0.079, 10, 10, 0.002), spotAt(0.04, 20, 20, 0.002))] }),
      outcome: 'needsReview',
      readings: 2,
      at: 'just over',
      findings: [
        {
          code: 'speck-that-holds',
          value: 0.079,
          inks: ['Coral'],
          places: 1,
          boxMm: [10 - 0.0395, 10 - 0.0395, 0.079, 0.079],
        },
      ],
    },
    {
      name: 'a hole of more than two openings is art; a speck of two is not',
      ask: askOf({ ticket, films, plates: [specks(spotAt(0.33, 10, 10), spotAt(0.3, 20, 20))] }),
      outcome: 'needsReview',
      readings: 2,
      findings: [{ code: 'speck-that-holds', value: 0.3, places: 1 }],
    },
    {
      name: 'no holes',
      ask: askOf({ ticket, films, plates: [specks()] }),
      outcome: 'notApplicable',
      readings: 0,
      why: /no clear specks/,
    },
    {
      name: 'vector art',
      ask: askOf({ ticket, plates: [specks(spotAt(0.1))] }),
      outcome: 'notApplicable',
      readings: 0,
      why: /Vector art/,
    },
    {
      name: 'no mesh given',
      ask: askOf({ films, plates: [specks(spotAt(0.1))] }),
      outcome: 'notApplicable',
      readings: 0,
      why: /No mesh/,
    },

    {
      name: 'no holes on a film that could not be drawn completely',
      ask: askOf({ ticket, films, plates: [{ ...specks(), doubts: ['A strip is damaged.'] }] }),
      outcome: 'needsReview',
      readings: 0,
      findings: [{ code: 'not-verified', value: null, places: 0 }],
    },
  ],
};
