import { describe, expect, it } from 'vitest';
import type { CheckResult, Finding } from '../../src/findings/finding.ts';
import { digestOf } from '../../src/report/digest.ts';
import { readingAgainstLimit } from '../../src/report/frontFacts.ts';
import { paintReport } from '../../src/report/paintedReport.ts';
import { renderHtml } from '../../src/report/renderHtml.ts';
import { renderText } from '../../src/report/renderText.ts';
import type { ReportJson } from '../../src/report/reportJson.ts';
import { textOf } from '../support/htmlTags.ts';
import { inspectionFixture } from '../support/inspectionFixture.ts';

const { report, pictures } = inspectionFixture({ inks: 12 });
const thinLine = report.checks.find((check) => check.id === 'thin-line')!;
const [base] = thinLine.findings;
const names = report.inks.map((ink) => ink.name);
const reason = 'A pattern could not be drawn.';

/** One finding an ink, its reading as given. */
function findingsOf(values: readonly number[], more: Partial<Finding> = {}): Finding[] {
  return values.map((value, index) => ({
    ...base,
    plateIds: [`p${index + 1}`],
    inkNames: [names[index]],
    measured: { value, unit: 'mm', plusMinus: 0.02 },
    places: base.places.slice(0, 4).map((place) => ({ ...place, value })),
    placesTotal: 4,
    worse: 'less',
    advice: { customer: `Thicken ${names[index]}.`, printer: `Spread ${names[index]}.` },
    ...more,
  }));
}

const checkWith = (id: string, findings: readonly Finding[]): CheckResult => ({
  ...thinLine,
  id,
  outcome: findings[0].outcome,
  findings,
});
const withChecks = (...checks: CheckResult[]): ReportJson => ({ ...report, joined: [], checks });
const textFor = (of: ReportJson, columns: number) =>
  renderText(of, { columns, colour: false, reportPath: null }).split('\n');

describe('findings alike on several inks', () => {
  const folded = withChecks(checkWith('thin-line', findingsOf([0.25, 0.21, 0.11, 0.28, 0.3])));
  const [entry, ...others] = digestOf(folded).stops.flatMap((group) => group.entries);

  it('are one entry with the worst first', () => {
    expect(others).toHaveLength(0);
    expect(digestOf(folded).stopsTotal).toBe(1);
    expect(entry.finding!.inkNames).toEqual([names[2], names[1], names[0], names[3], names[4]]);
    expect(entry.finding!.measured!.value).toBe(0.11);
    expect(entry.finding!.placesTotal).toBe(20);
    expect(entry.finding!.advice.printer.startsWith(`Spread ${names[2]}. The same goes for ${names[1]}, `)).toBe(true);
  });

  it('keep the details that hold for all', () => {
    const own = findingsOf([0.1, 0.2, 0.3]).map((finding, index) => ({
      ...finding,
      details: [`kind ${index}`, 'no base'],
    }));
    const [group] = digestOf(withChecks(checkWith('thin-line', own))).stops;
    expect(group.entries[0].finding!.details).toEqual(['no base']);
  });

  it('show the worst place of different inks first', () => {
    expect(entry.sources.slice(0, 3).map(({ member }) => member.finding.inkNames[0])).toEqual([
      names[2],
      names[1],
      names[0],
    ]);
  });

  it('are two entries when they are two, and apart when the outcome differs', () => {
    const two = withChecks(checkWith('thin-line', findingsOf([0.25, 0.21])));
    expect(digestOf(two).stopsTotal).toBe(2);
    const open = findingsOf([0.3, 0.31, 0.3], { outcome: 'needsReview' });
    const both = withChecks({ ...checkWith('thin-line', [...findingsOf([0.2, 0.21, 0.22]), ...open]) });
    expect([digestOf(both).stopsTotal, digestOf(both).lookFirstTotal]).toEqual([1, 1]);
  });

  it('give each ink its value, in the page and in the terminal', async () => {
    const text = textOf(renderHtml(await paintReport({ report: folded, pictures }))).replaceAll('\u00a0', ' ');
    expect(text).toContain('worst 0.11 ± 0.02 mm, needs 0.31 mm');
    for (const value of ['0.11 mm', '0.21 mm', '0.25 mm', '0.28 mm', '0.30 mm']) expect(text).toContain(value);
    const lines = textFor(folded, 100);
    expect(lines.filter((line) => line.startsWith('  thin-line'))).toHaveLength(1);
    expect(lines.find((line) => line.startsWith('  thin-line'))).toContain('5 inks  worst 0.11 ± 0.02 mm, needs 0.31');
    expect(lines.some((line) => line.trim().startsWith(`${names[2]} 0.11 mm, `) && line.endsWith('and 2 more'))).toBe(
      true,
    );
  });
});

describe('readings that wait on something that could not be drawn', () => {
  const waiting = (values: readonly number[]) =>
    findingsOf(values, {
      code: 'not-verified',
      outcome: 'needsReview',
      inkNames: [names[0]],
      plateIds: ['p1'],
      waitingOn: [reason],
      details: ['a kind', reason],
    });
  const open = withChecks(checkWith('thin-line', waiting([0.5])), checkWith('thin-gap', waiting([0.6])));
  const [entry, ...others] = digestOf(open).lookFirst.flatMap((group) => group.entries);

  it('are one entry for one reason, whatever the checks', () => {
    expect(others).toHaveLength(0);
    expect(entry.title).toBe(`Waiting on: ${reason}`);
    expect(entry.finding!.advice.printer).toContain(`2 readings of ${names[0]} were fine as drawn`);
    expect(entry.finding!.details).toEqual(['thin line and thin gap']);
    expect(readingAgainstLimit(entry)).toBe('');
  });

  it('are said once in the page and in the terminal', async () => {
    const article = textOf(renderHtml(await paintReport({ report: open, pictures }))).split(
      'Settle what could not be drawn',
    )[1];
    expect(article.split('Measured and fine')[0].split(reason)).toHaveLength(3);
    const text = textFor(open, 80).join('\n');
    expect(text.split(reason)).toHaveLength(2);
    expect(text).toContain('2 readings are fine as drawn, certain only once it is settled:');
  });

  it('stay apart for another reason', () => {
    const other = waiting([0.5]).map((finding) => ({ ...finding, waitingOn: ['A font is missing.'] }));
    const two = withChecks(checkWith('thin-line', [...waiting([0.5]), ...other]));
    expect(digestOf(two).lookFirstTotal).toBe(2);
  });
});

describe('counts of what should not be there', () => {
  const limit = { value: 0, unit: 'count', from: 'default', rule: 'none', source: 'common practice' } as const;
  const count = { measured: { value: 1, unit: 'count', plusMinus: 0 }, limit, worse: 'more' } as const;
  const texts = withChecks(checkWith('live-type', findingsOf([1], { ...count, placesTotal: 3 })));
  const inks = withChecks(checkWith('unnamed-ink', findingsOf([1, 1, 1], { ...count, placesTotal: 1 })));

  it('are said in words and without their limit', async () => {
    const [entry] = digestOf(texts).stops[0].entries;
    expect(readingAgainstLimit(entry)).toBe('3 texts');
    for (const of of [texts, inks]) {
      const page = textOf(renderHtml(await paintReport({ report: of, pictures }))).split('Measured and fine')[0];
      expect(page).not.toMatch(/(allows|limit|needs) 0/);
      expect(textFor(of, 100).join('\n')).not.toMatch(/(allows|limit|needs) 0/);
    }
    expect(textFor(texts, 100).join('\n')).toContain('3 texts');
    expect(textFor(inks, 100).find((line) => line.startsWith('  unnamed-ink'))).toContain('3 inks  3 places');
  });

  it('that found none name no ink and no limit', async () => {
    const tightest = { inkNames: ['Nameless'], value: 0, unit: 'count', plusMinus: 0, limit } as const;
    const passed = withChecks({ ...thinLine, id: 'unnamed-ink', outcome: 'pass', findings: [], tightest });
    const page = textOf(renderHtml(await paintReport({ report: passed, pictures })));
    const table = page.split('Measured and fine')[1].split('Not checked')[0];
    expect(table).toContain('none');
    expect(table).not.toMatch(/Nameless|allows|limit 0/);
  });

  it('of lengths say that none is allowed', () => {
    const none = { ...limit, unit: 'mm' } as const;
    const joint = withChecks(checkWith('butt-joint', findingsOf([188.9], { limit: none, worse: 'more' })));
    expect(readingAgainstLimit(digestOf(joint).stops[0].entries[0]).replaceAll('\u00a0', ' ')).toBe(
      '188.90 ± 0.02 mm, allows none',
    );
  });
});
