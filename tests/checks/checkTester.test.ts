import { describe, expect, it } from 'vitest';
import type { Check } from '../../src/checks/check.ts';
import { heavyStack } from '../../src/checks/heavy-stack.ts';
import { askOf } from '../support/askFixture.ts';
import type { CheckCases, CheckRow } from '../support/checkTester.ts';
import { refuseWeakRows, testRow } from '../support/checkTester.ts';
import { cases as allCases } from './heavy-stack.cases.ts';

/** One row for each thing a check owes. */
const cases: CheckCases = { ...allCases, rows: allCases.rows.slice(0, 4) };
const [under, , over, clear] = cases.rows;

function withRows(rows: readonly CheckRow[], more: Partial<CheckCases> = {}): CheckCases {
  return { ...cases, rows, ...more };
}

describe('the tester of checks', () => {
  it('accepts the rows as they are', () => {
    expect(() => refuseWeakRows(heavyStack, cases)).not.toThrow();
  });

  it('refuses rows that leave something out', () => {
    for (const left of cases.rows) {
      const rest = cases.rows.filter((row) => row !== left);
      expect(() => refuseWeakRows(heavyStack, withRows(rest)), left.name).toThrow();
    }
    expect(() => refuseWeakRows(heavyStack, withRows(cases.rows, { neverFails: undefined }))).toThrow(/fails/);
    expect(() => refuseWeakRows(heavyStack, withRows(cases.rows, { neverPasses: 'never' }))).toThrow(/passes/);
    expect(() => refuseWeakRows(heavyStack, withRows(cases.rows, { alwaysApplies: 'always' }))).toThrow(
      /does not apply/,
    );
  });

  it('refuses two rows of one name, and two that ask the same', () => {
    expect(() => refuseWeakRows(heavyStack, withRows([...cases.rows, { ...under, ask: over.ask }]))).toThrow(
      /one name/,
    );
    expect(() => refuseWeakRows(heavyStack, withRows([...cases.rows, { ...under, name: 'again' }]))).toThrow(
      /ask the same/,
    );
  });

  it('refuses a code that no row reaches', () => {
    const more = { ...heavyStack, advice: { ...heavyStack.advice, 'never-reached': heavyStack.advice['heavy-solid'] } };
    expect(() => refuseWeakRows(more, cases)).toThrow(/never-reached/);
  });

  it('refuses a row whose outcome, count, value, place or whereabouts is another', () => {
    const finding = over.findings![0];
    const wrong: readonly Partial<CheckRow>[] = [
      { outcome: 'pass' },
      { readings: 2 },
      { findings: [] },
      { findings: [{ ...finding, value: finding.value! + 0.001 }] },
      { findings: [{ ...finding, places: 2 }] },
      { findings: [{ ...finding, boxMm: [20, 20, 260, 321] }] },
      { findings: [{ ...finding, inks: ['Night'] }] },
      { findings: [{ ...finding, plusMinus: 1 }] },
      { findings: [{ ...finding, details: ['a word'] }] },
      { at: 'at' },
      { at: 'just under' },
    ];
    expect(() => testRow(heavyStack, over)).not.toThrow();
    for (const change of wrong)
      expect(() => testRow(heavyStack, { ...over, ...change }), JSON.stringify(change)).toThrow();
    expect(() => testRow(heavyStack, { ...under, tightest: undefined })).toThrow(/tightest/);
    expect(() => testRow(heavyStack, { ...clear, why: undefined })).toThrow(/states why/);
  });

  it('refuses a row far from the limit that says it lies near', () => {
    const far = askOf({ plates: [{ ink: 'Coral', opacity: { coveragePercent: 30 } }] });
    expect(() => testRow(heavyStack, { ...under, ask: far, tightest: 30 })).toThrow();
  });

  it('finds a check that changes what it is given, and one whose advice has holes or speaks of the workshop', () => {
    const changing: Check<'heavy-solid'> = {
      ...heavyStack,
      *measure(ask, subject) {
        (ask.plates as unknown[]).push(null);
        yield* heavyStack.measure(ask, subject);
      },
    };
    expect(() => testRow(changing, over)).toThrow(/not extensible/);
    const saying = (text: string): Check<'heavy-solid'> => ({
      ...heavyStack,
      advice: { 'heavy-solid': { ...heavyStack.advice['heavy-solid'], customer: () => text } },
    });
    expect(() => testRow(saying('This covers undefined of the print.'), over)).toThrow();
    expect(() => testRow(saying('Please choose a finer mesh for this ink.'), over)).toThrow(/workshop/);
    expect(() => testRow(saying('This sentence has no end to it'), over)).toThrow(/sentence/);
  });
});
