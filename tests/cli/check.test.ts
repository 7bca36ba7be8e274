import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { ReportJson } from '../../src/report/reportJson.ts';
import { root, runCli } from './runCli.ts';

const jobs = join(root, 'fixtures/jobs');
let scratch: string;

beforeAll(() => {
  scratch = mkdtempSync(join(tmpdir(), 'plateglass-cli-'));
});
afterAll(() => rmSync(scratch, { recursive: true, force: true }));

function reportOf(path: string, ...options: string[]): { exitCode: number | null; report: ReportJson } {
  const { exitCode, stdout } = runCli(['check', path, '--format', 'json', ...options]);
  return { exitCode, report: JSON.parse(stdout) as ReportJson };
}

function outcomes(report: ReportJson, outcome: string): string[] {
  return report.checks.filter((check) => check.outcome === outcome).map(({ id }) => id);
}

describe('the demo jobs', () => {
  it('midsummer-tee is ready to film', () => {
    const { exitCode, report } = reportOf(join(jobs, 'midsummer-tee'));
    expect(outcomes(report, 'fail')).toEqual([]);
    expect(outcomes(report, 'needsReview')).toEqual([]);
    expect(report.verdict).toBe('pass');
    expect(exitCode).toBe(0);
    expect(
      report.inks
        .filter(({ printed }) => printed)
        .map(({ name }) => name)
        .sort(),
    ).toEqual(['Honey', 'Meadow', 'Night']);
    for (const plate of report.plates) expect(plate.marks).toHaveLength(4);
    // The sun runs 0.4 mm under the hill, the outlines 0.6 mm over both.
    const pair = (a: string, b: string) => {
      const names = report.pairs.find(
        ({ plateIds }) =>
          plateIds
            .map((id) => inkOfPlate(report, id))
            .sort()
            .join() === [a, b].sort().join(),
      );
      return names?.medianOverlapMm ?? Number.NaN;
    };
    expect(pair('Honey', 'Night')).toBeCloseTo(0.6, 1);
  });

  it('brass-band-films fails for its films', () => {
    const { exitCode, report } = reportOf(join(jobs, 'brass-band-films'));
    expect(exitCode).toBe(1);
    expect(report.verdict).toBe('fail');
    expect(outcomes(report, 'fail')).toEqual(
      expect.arrayContaining([
        'thin-line',
        'thin-gap',
        'semi-opaque-positive',
        'missing-registration-mark',
        'butt-joint',
      ]),
    );
    const thinLine = report.checks.find(({ id }) => id === 'thin-line')!;
    const staves = thinLine.findings.find(({ outcome }) => outcome === 'fail')!;
    expect(staves.inkNames).toEqual(['Coral']);
    // Five staves drawn 0.15 mm wide at 600 dpi.
    expect(staves.placesTotal).toBe(5);
    expect(Math.abs(staves.measured!.value - 0.15)).toBeLessThanOrEqual(0.5 * (25.4 / 600) + 1e-9);
  });

  it('choir-order needs the customer', () => {
    const { exitCode, report } = reportOf(join(jobs, 'choir-order'));
    expect(exitCode).toBe(1);
    const open = [...outcomes(report, 'fail'), ...outcomes(report, 'needsReview')];
    expect(open).toEqual(
      expect.arrayContaining(['extra-ink', 'near-duplicate-ink', 'coarse-image', 'live-type', 'unnamed-ink']),
    );
  });
});

describe('plateglass check', () => {
  it('writes the report in every form into --out', () => {
    const out = join(scratch, 'report');
    const { exitCode, stdout, stderr } = runCli(['check', join(jobs, 'midsummer-tee'), '--out', out]);
    expect(exitCode, stderr).toBe(0);
    expect(stdout.split('\n').find((line) => line.trim() !== '')).toContain('Ready to film');
    expect(readdirSync(out)).toEqual(
      expect.arrayContaining(['report.json', 'report.html', 'report.pdf', 'composite.png']),
    );
    expect(readFileSync(join(out, 'report.pdf')).subarray(0, 5).toString()).toBe('%PDF-');
    const note = runCli(['note', join(out, 'report.json')]);
    expect(note.exitCode, note.stderr).toBe(0);
    const plan = runCli(['plan', join(out, 'report.json')]);
    expect(plan.exitCode, plan.stderr).toBe(0);
    expect(plan.stdout.replace(/\s+/g, ' ')).toMatch(/data sheets, local codes and licensed practice/);
  });

  it('gives the same report bytes with one thread or several, and twice', () => {
    const bytes = ['0', '1', '3', '0'].map((threads) => {
      const { report } = reportOf(join(jobs, 'brass-band-films'), '--threads', threads);
      return JSON.stringify({ ...report, timings: {} });
    });
    expect(new Set(bytes).size).toBe(1);
  });

  it('exits 0 for a look when that is accepted', () => {
    const ticket = join(scratch, 'roomy.yaml');
    writeFileSync(ticket, 'limits: { minLineMm: 0.05 }\nfilm: { marks: addedAtOutput }\n');
    const svg = join(scratch, 'unnamed.svg');
    writeFileSync(
      svg,
      '<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="60mm" viewBox="0 0 60 60"><circle cx="30" cy="30" r="20" fill="#336699"/></svg>',
    );
    const plain = runCli(['check', svg, '--ticket', ticket]);
    expect(plain.exitCode, plain.stdout).toBe(1);
    expect(plain.stdout).toContain('Look first');
    expect(runCli(['check', svg, '--ticket', ticket, '--accept-review']).exitCode).toBe(0);
  });

  it('names every problem of a wrong ticket at once and exits 2', () => {
    const ticket = join(scratch, 'wrong.yaml');
    writeFileSync(ticket, 'press: { heads: minus two }\nlimits: { minLineMm: -1 }\nscreens: [{ ink: 5 }]\n');
    const { exitCode, stderr } = runCli(['check', join(jobs, 'midsummer-tee/midsummer-tee.pdf'), '--ticket', ticket]);
    expect(exitCode).toBe(2);
    for (const path of ['press.heads', 'limits.minLineMm', 'screens[0].ink']) expect(stderr).toContain(path);
  });

  it.each([
    ['no such file', ['check', 'nowhere/film.pdf']],
    ['an unknown option', ['check', 'x.pdf', '--frobnicate']],
    ['a bad resolution', ['check', 'x.pdf', '--dpi', '-3']],
    ['no path', ['check']],
    ['an unknown command', ['exmaine']],
  ])('exits 2 for %s, with a sentence and no stack', (_what, parameters) => {
    const { exitCode, stdout, stderr } = runCli(parameters);
    expect(exitCode).toBe(2);
    expect(stdout).toBe('');
    expect(stderr.length).toBeGreaterThan(10);
    expect(stderr).not.toMatch(/\n\s+at /);
  });

  it('says what is wrong with an empty folder', () => {
    const empty = join(scratch, 'empty');
    mkdirSync(empty);
    const { exitCode, stderr } = runCli(['check', empty]);
    expect(exitCode).toBe(2);
    expect(stderr).toContain('There is no film in');
  });
});

describe('films with nothing to film', () => {
  it.each(['no-art.pdf', 'no-art.svg'])('%s is never ready', (name) => {
    const { exitCode, report } = reportOf(join(root, 'fixtures/broken', name));
    expect(exitCode).toBe(1);
    expect(report.joined.map(({ code }) => code)).toContain('nothing-to-film');
  });

  it('a page of ten metres is measured within its limits and never simply passed', () => {
    const { exitCode, report } = reportOf(join(root, 'fixtures/broken/ten-metres.pdf'));
    expect(exitCode).toBe(1);
    expect(report.films[0].widthMm).toBeCloseTo(10000, 0);
    expect(report.plates[0].widthPx * report.plates[0].heightPx).toBeLessThanOrEqual(1_000_100_000);
    // The black square has a quarter of the page.
    expect(report.plates[0].coveragePercent).toBeCloseTo(25, 1);
  });
});

describe('broken films', () => {
  const folder = join(root, 'fixtures/broken');

  for (const name of readdirSync(folder)) {
    it(`${name} ends in one clear sentence or a finding`, () => {
      const { exitCode, stdout, stderr } = runCli(['check', join(folder, name), '--format', 'json']);
      const report = JSON.parse(stdout) as ReportJson;
      expect([1, 2]).toContain(exitCode);
      expect(stderr).not.toMatch(/\n\s+at /);
      if (exitCode === 2) {
        expect(report.verdict).toBe('couldNotRun');
        expect(report.error?.file).toBe(name);
        expect(stderr).toContain(name);
        expect(stderr.trim().split('\n')).toHaveLength(1);
      } else expect(report.verdict).not.toBe('pass');
    });
  }

  it('writes a report of a film that cannot be opened when asked for one', () => {
    const out = join(scratch, 'unreadable');
    const { exitCode } = runCli(['check', join(folder, 'empty.pdf'), '--out', out]);
    expect(exitCode).toBe(2);
    expect(readFileSync(join(out, 'report.html'), 'utf8')).toContain('empty.pdf');
    expect((JSON.parse(readFileSync(join(out, 'report.json'), 'utf8')) as ReportJson).verdict).toBe('couldNotRun');
  });

  it('keeps control characters of file names from the terminal', () => {
    const file = join(scratch, 'evil\u001b[2J<b>.pdf');
    writeFileSync(file, '');
    const { exitCode, stderr } = runCli(['check', file]);
    expect(exitCode).toBe(2);
    expect(stderr).not.toContain('\u001b');
  });
});

function inkOfPlate(report: ReportJson, plateId: string): string {
  const plate = report.plates.find(({ id }) => id === plateId)!;
  return report.inks.find(({ id }) => id === plate.inkId)!.name;
}
