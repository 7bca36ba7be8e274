import type { ScreenRole } from '../../src/ticket/ticket.ts';
import { askOf } from '../support/askFixture.ts';
import type { CheckCases } from '../support/checkTester.ts';

type Frame = readonly [string, ScreenRole];

const inks = [
  { name: 'White base', displayHex: '#ffffff' },
  { name: 'Sand', displayHex: '#d8c39a' },
  { name: 'Coral', displayHex: '#ef6a57' },
  { name: 'Night', displayHex: '#1b2140' },
  { name: 'Spark', displayHex: '#fffff0' },
];

function frames(...list: readonly Frame[]) {
  return { screens: list.map(([ink, role]) => ({ ink, role })) };
}

function job(...list: readonly Frame[]) {
  return askOf({ inks, ticket: frames(...list) });
}

export const cases: CheckCases = {
  neverFails: "an unusual order may be right for a job; it is the printer's to say",
  zeroLimit: true,
  rows: [
    {
      name: 'base, light to dark, key, highlight',
      ask: job(
        ['White base', 'underbase'],
        ['Sand', 'colour'],
        ['Coral', 'colour'],
        ['Night', 'key'],
        ['Spark', 'highlight'],
      ),
      outcome: 'pass',
      readings: 4,
      tightest: 0,
      at: 'at',
    },
    {
      name: 'a base after a colour',
      ask: job(['Coral', 'colour'], ['White base', 'underbase']),
      outcome: 'needsReview',
      readings: 1,
      at: 'just over',
      findings: [{ code: 'base-not-first', value: 1, inks: ['Coral', 'White base'], places: 0 }],
    },
    {
      name: 'a key before a colour',
      ask: job(['Night', 'key'], ['Coral', 'colour']),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'key-not-last', value: 1, inks: ['Night', 'Coral'], places: 0 }],
    },
    {
      name: 'a highlight before a key',
      ask: job(['Spark', 'highlight'], ['Night', 'key']),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'highlight-not-last', value: 1, inks: ['Spark', 'Night'], places: 0 }],
    },
    {
      name: 'dark before light',
      ask: job(['Coral', 'colour'], ['Sand', 'colour']),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'dark-before-light', value: 1, inks: ['Coral', 'Sand'], places: 0 }],
    },
    {
      name: 'a large light area after a small dark one',
      ask: askOf({
        inks,
        ticket: frames(['Coral', 'colour'], ['Sand', 'colour']),
        plates: [
          { ink: 'Coral', opacity: { coveragePercent: 5 } },
          { ink: 'Sand', opacity: { coveragePercent: 25 } },
        ],
      }),
      outcome: 'pass',
      readings: 1,
      tightest: 0,
    },
    {
      name: 'a frame without art has no lightness to go by',
      ask: job(['Coral', 'colour'], ['Rain', 'colour']),
      outcome: 'pass',
      readings: 1,
      tightest: 0,
    },
    { name: 'one frame', ask: job(['Coral', 'colour']), outcome: 'notApplicable', readings: 0, why: /no order/ },
  ],
};
