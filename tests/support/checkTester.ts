import { expect, it } from 'vitest';
import type { Ask } from '../../src/checks/ask.ts';
import type { AnyCheck } from '../../src/checks/check.ts';
import type { CheckResult, Finding } from '../../src/findings/finding.ts';
import { runCheck } from '../../src/inspect/runCheck.ts';

export interface ExpectedFinding {
  readonly code: string;
  /** The outcome of the row unless given. */
  readonly outcome?: 'fail' | 'needsReview';
  readonly inks?: readonly string[];
  /** Exact to a millionth; null when nothing was measured. */
  readonly value: number | null;
  readonly plusMinus?: number;
  readonly places: number;
  /** Corner and size of the worst place in mm. */
  readonly boxMm?: readonly [number, number, number, number];
  readonly details?: readonly string[];
}

export interface CheckRow {
  readonly name: string;
  readonly ask: Ask;
  readonly outcome: CheckResult['outcome'];
  readonly readings: number;
  /** The value of the tightest reading of a row that passes. */
  readonly tightest?: number;
  readonly findings?: readonly ExpectedFinding[];
  readonly why?: RegExp;
  /** What other checks judge, each text; nothing unless stated. */
  readonly leftToOthers?: readonly RegExp[];
  /** Where the row's reading lies to the limit; its error bar may reach across. */
  readonly at?: 'just under' | 'at' | 'just over';
}

export interface CheckCases {
  readonly rows: readonly CheckRow[];
  /** A check that only ever asks people says so, and why; it then owes no failing row. */
  readonly neverFails?: string;
  /** A check that can find trouble but never prove its absence says so, and why; it then owes no passing row. */
  readonly neverPasses?: string;
  /** A limit of nothing has no "just under". */
  readonly zeroLimit?: boolean;
  /** A check whose question can be put to every job says so, and why; it then owes no row that does not apply. */
  readonly alwaysApplies?: string;
}

/** Runs the rows of one check and refuses rows that prove too little. */
export function testCheck(check: AnyCheck, cases: CheckCases): void {
  for (const row of cases.rows) it(row.name, () => testRow(check, row));
  it('has the rows every check owes', () => refuseWeakRows(check, cases));
}

/** Runs one row and throws where the result is not as it says. */
export function testRow(check: AnyCheck, row: CheckRow): void {
  deepFreeze(row.ask);
  const result = runCheck(check, row.ask);
  expect(result.outcome, result.why ?? JSON.stringify(result.findings)).toBe(row.outcome);
  expect(result.id).toBe(check.id);
  expect(result.readingsTotal, 'readings').toBe(row.readings);
  expect(result.findings.map(({ code }) => code)).toEqual((row.findings ?? []).map(({ code }) => code));
  for (const [index, expected] of (row.findings ?? []).entries()) testFinding(result.findings[index], expected, row);
  if (row.outcome === 'pass') {
    expect(row.tightest, 'a passing row states its tightest reading').toBeDefined();
    expect(result.tightest?.value).toBeCloseTo(row.tightest!, 6);
  }
  if (row.outcome === 'notApplicable') expect(row.why, 'a row that does not apply states why').toBeDefined();
  if (row.why !== undefined) expect(result.why).toMatch(row.why);
  expect(result.leftToOthers?.length ?? 0, 'left to others').toBe(row.leftToOthers?.length ?? 0);
  for (const [index, text] of (row.leftToOthers ?? []).entries()) expect(result.leftToOthers![index]).toMatch(text);
  if (row.at !== undefined) testWhereabouts(result, row);
  expect(JSON.stringify(runCheck(check, row.ask)), 'same answer twice').toBe(JSON.stringify(result));
}

function testFinding(finding: Finding, expected: ExpectedFinding, row: CheckRow): void {
  expect(finding.outcome).toBe(expected.outcome ?? row.outcome);
  if (expected.value === null) expect(finding.measured).toBeNull();
  else expect(finding.measured?.value).toBeCloseTo(expected.value, 6);
  if (expected.plusMinus !== undefined) expect(finding.measured?.plusMinus).toBeCloseTo(expected.plusMinus, 6);
  if (expected.inks !== undefined) expect(finding.inkNames).toEqual(expected.inks);
  expect(finding.placesTotal, 'places').toBe(expected.places);
  if (expected.boxMm !== undefined) {
    const { xMm, yMm, widthMm, heightMm } = finding.places[0];
    for (const [index, value] of [xMm, yMm, widthMm, heightMm].entries()) {
      expect(value, 'box').toBeCloseTo(expected.boxMm[index], 6);
    }
  }
  if (expected.details !== undefined) expect(finding.details).toEqual(expected.details);
  for (const text of [finding.advice.customer, finding.advice.printer]) {
    expect(text.length).toBeGreaterThan(20);
    expect(text).not.toMatch(/undefined|NaN|Infinity|null|\[object/);
    expect(text, 'advice ends its sentence').toMatch(/[.?]$/);
  }
  expect(finding.advice.customer, 'the customer is spared the workshop').not.toMatch(
    /\b(?:mesh|threads?|stencil|emulsion|squeegee|lpi|CIEDE2000)\b/i,
  );
}

/** Just under and just over lie within a twentieth of the limit, or one count; a limit of zero takes what it gets. */
function testWhereabouts(result: CheckResult, row: CheckRow): void {
  const shown = result.findings[0];
  const measured = shown === undefined ? result.tightest : shown.measured;
  const limit = shown === undefined ? result.tightest!.limit : shown.limit!;
  const difference = measured!.value - limit.value;
  if (row.at === 'at') expect(difference).toBeCloseTo(0, 6);
  else if (row.at === 'just under') expect(difference).toBeLessThan(-1e-6);
  else expect(difference).toBeGreaterThan(1e-6);
  const near = limit.unit === 'count' ? 1 : limit.value === 0 ? Number.POSITIVE_INFINITY : limit.value / 20 + 1e-6;
  expect(Math.abs(difference)).toBeLessThanOrEqual(near);
}

/** Throws when the rows leave out an outcome, a code or a side of the limit, or say one thing twice. */
export function refuseWeakRows(check: AnyCheck, cases: CheckCases): void {
  const { rows } = cases;
  const has = (outcome: CheckResult['outcome']) => rows.some((row) => row.outcome === outcome);
  expect(has('pass'), 'a row that passes').toBe(cases.neverPasses === undefined);
  expect(has('fail'), 'a row that fails').toBe(cases.neverFails === undefined);
  expect(has('needsReview'), 'a row that needs review').toBe(true);
  expect(has('notApplicable'), 'a row that does not apply').toBe(cases.alwaysApplies === undefined);
  const owed = ['just over', ...(cases.neverPasses ? [] : ['at']), ...(cases.zeroLimit ? [] : ['just under'])];
  for (const at of owed)
    expect(
      rows.some((row) => row.at === at),
      `a row ${at} the limit`,
    ).toBe(true);
  const reached = new Set(rows.flatMap(({ findings = [] }) => findings.map(({ code }) => code)));
  for (const code of Object.keys(check.advice)) expect([...reached], `code ${code}`).toContain(code);
  expect(new Set(rows.map(({ name }) => name)).size, 'no two rows of one name').toBe(rows.length);
  const asked = rows.map(({ ask }) => JSON.stringify([ask, ask.ticket.screenFor('Coral')]));
  expect(new Set(asked).size, 'no two rows that ask the same').toBe(rows.length);
}

function deepFreeze(value: unknown): void {
  if (typeof value !== 'object' || value === null || Object.isFrozen(value) || ArrayBuffer.isView(value)) return;
  Object.freeze(value);
  for (const child of Object.values(value)) deepFreeze(child);
}
