import { askOf, boundaryAt, underbaseOf } from '../support/askFixture.ts';
import type { CheckCases } from '../support/checkTester.ts';

function job(more: Parameters<typeof underbaseOf>[2]) {
  return askOf({ inks: ['White base', 'Coral'], underbase: underbaseOf('White base', ['Coral'], more) });
}

export const cases: CheckCases = {
  rows: [
    {
      name: 'just more than the choke',
      ask: job({ chokes: [boundaryAt(0.261)], plusMinusMm: 0.01 }),
      outcome: 'pass',
      readings: 1,
      tightest: 0.261,
      at: 'just over',
    },
    {
      name: 'the smallest choke, when no places are listed',
      ask: job({ minChokeMm: 0.4 }),
      outcome: 'pass',
      readings: 1,
      tightest: 0.4,
    },
    {
      name: 'at the choke, give or take 0.02',
      ask: job({ chokes: [boundaryAt(0.25)] }),
      outcome: 'needsReview',
      readings: 1,
      at: 'at',
      findings: [{ code: 'close-to-limit', value: 0.25, plusMinus: 0.02, inks: ['White base'], places: 1 }],
    },
    {
      name: 'just less than the choke',
      ask: job({ chokes: [boundaryAt(0.239)], plusMinusMm: 0.01 }),
      outcome: 'fail',
      readings: 1,
      at: 'just under',
      findings: [{ code: 'choke-too-small', value: 0.239, places: 1 }],
    },
    {
      name: 'a base that reaches past its colours, and one flush with them',
      ask: job({ peeks: [boundaryAt(0.1), boundaryAt(0.3)], chokes: [boundaryAt(0), boundaryAt(0.5)] }),
      outcome: 'fail',
      readings: 4,
      findings: [
        { code: 'base-peeks-out', value: -0.3, places: 2, boxMm: [100, 40, 10, 1] },
        { code: 'choke-too-small', value: 0, places: 1 },
      ],
    },
    {
      name: 'edges that nowhere run together',
      ask: job({}),
      outcome: 'notApplicable',
      readings: 0,
      why: /nowhere run together/,
    },
    { name: 'no base', ask: askOf(), outcome: 'notApplicable', readings: 0, why: /no base/ },
  ],
};
