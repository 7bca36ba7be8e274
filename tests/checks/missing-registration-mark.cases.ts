import { askOf, markAt, marksOf } from '../support/askFixture.ts';
import type { CheckCases } from '../support/checkTester.ts';

const inks = ['Coral', 'Night'];
const one = [markAt(150, 10)];
const two = [...one, markAt(150, 350)];
const three = [...two, markAt(10, 180)];

export const cases: CheckCases = {
  rows: [
    {
      name: 'three marks where two are wanted',
      ask: askOf({ inks, marks: [marksOf('Coral', three), marksOf('Night', three)] }),
      outcome: 'pass',
      readings: 2,
      tightest: 3,
      at: 'just over',
    },
    {
      name: 'two marks on each film',
      ask: askOf({ inks, marks: [marksOf('Coral', two), marksOf('Night', two)] }),
      outcome: 'pass',
      readings: 2,
      tightest: 2,
      at: 'at',
    },
    {
      name: 'one mark on each film',
      ask: askOf({ inks, marks: [marksOf('Coral', one), marksOf('Night', one)] }),
      outcome: 'needsReview',
      readings: 2,
      at: 'just under',
      findings: [
        { code: 'few-marks', value: 1, inks: ['Coral'], places: 0 },
        { code: 'few-marks', value: 1, inks: ['Night'], places: 0 },
      ],
    },
    {
      name: 'one film lacks a mark of the others',
      ask: askOf({
        inks: [...inks, 'Sand'],
        marks: [
          marksOf('Coral', two),
          marksOf('Sand', two),
          marksOf('Night', one, { missing: [{ xMm: 150, yMm: 350, looked: true, why: null }] }),
        ],
      }),
      outcome: 'fail',
      readings: 3,
      findings: [{ code: 'lacks-marks', value: 1, inks: ['Night'], places: 1, boxMm: [146, 346, 8, 8] }],
    },
    {
      name: 'one film could not be looked at there',
      ask: askOf({
        inks,
        marks: [
          marksOf('Coral', two),
          marksOf('Night', two, { missing: [{ xMm: 10, yMm: 10, looked: false, why: 'art lies there' }] }),
        ],
      }),
      outcome: 'needsReview',
      readings: 2,
      findings: [
        {
          code: 'in-doubt',
          value: 2,
          inks: ['Night'],
          places: 1,
          details: ['A mark could not be looked for on Night: art lies there.'],
        },
      ],
    },
    {
      name: 'no marks anywhere',
      ask: askOf({ inks, marks: [marksOf('Coral', []), marksOf('Night', [])] }),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'no-marks', value: 0, inks: ['Coral', 'Night'], places: 0 }],
    },
    {
      name: 'marks at other places on each film',
      ask: askOf({
        inks,
        marks: [marksOf('Coral', [], { unconfirmed: one }), marksOf('Night', [], { unconfirmed: [markAt(99, 99)] })],
      }),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'unmatched-marks', value: 0, places: 0 }],
    },
    {
      name: 'marks added at output',
      ask: askOf({ inks, ticket: { marks: 'addedAtOutput' } }),
      outcome: 'notApplicable',
      readings: 0,
      why: /added when/,
    },
    { name: 'a single film', ask: askOf(), outcome: 'notApplicable', readings: 0, why: /single film/ },
  ],
};
