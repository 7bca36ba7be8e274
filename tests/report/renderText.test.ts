import { describe, expect, it } from 'vitest';
import { renderPlan } from '../../src/report/renderPlan.ts';
import { renderText } from '../../src/report/renderText.ts';
import { inspectionFixture } from '../support/inspectionFixture.ts';

const { report } = inspectionFixture();
const at = (columns: number, colour = false) =>
  renderText(report, { columns, colour, reportPath: 'midsummer-tee.report/report.html' });

describe('the report in a terminal', () => {
  it('reads so at 80 columns', () => {
    expect(at(80).split('\n')).toEqual([
      'Not ready   Midsummer tee   4 films, 300 × 352 mm   shop defaults, no ticket',
      '',
      '  short-trap  Coral / Lagoon  0.08 ± 0.01 mm, needs 0.25 (shop default)',
      '              9 places, first 72.0, 195.0 mm',
      '              Spread Coral by 0.17 mm under Lagoon.',
      '  thin-line   Coral           0.21 ± 0.02 mm, needs 0.31 (mesh 43/cm, 80 µm)',
      '              17 places, first 257.8, 149.9 mm',
      '              Thicken these lines, or print Coral through 77/cm (needs 0.18 mm).',
      '  extra-ink                   7 inks, allows 6 (your ticket)',
      '              Join two inks, or print on the press with more heads.',
      '',
      '  Look first',
      '  films       Two inks are called Night; they were taken for one.',
      '  live-type   Night           “Midsummer”  2 places, first 60.0, 310.0 mm',
      '              The font is not in the file: what prints is not certain. Ask for',
      '              outlines.',
      '  small-type  Night           8.1 ± 0.2 pt, needs 8.0 (shop default)',
      '              at 180.0, 322.0 mm',
      '              Measure the x-height under the loupe here before filming.',
      '',
      '  Where inks meet',
      '  Coral / Lagoon  200.0 mm of edge; overlap 0.08 to 0.27, median 0.27 ± 0.02 mm',
      '  Coral / Night   145.0 mm of edge; overlap 0.29 to 0.33, median 0.33 ± 0.02 mm;',
      '                  8 shapes of Night in openings of Coral; on each other over',
      '                  148.7 mm², 2.9 % of Coral and all of Night',
      '  Lagoon / Night  143.0 mm of edge; overlap 0.33 to 0.37, median 0.37 ± 0.02 mm',
      '  White base      the base: peeks out along 14.0 mm; flush along 6.0 mm; 1 part',
      '                  of colour without base; 1 bare strip; choke smallest 0.00 mm,',
      '                  median 0.26 ± 0.02 mm; 118.0 mm² of base without colour on top',
      '',
      '  7 checks fine, 2 not applicable',
      '  order: 1 White base (43/cm), 2 flash, 3 cool-down, 4 Coral (43/cm), 5 Lagoon',
      '    (43/cm), 6 Night (77/cm)',
      '  report: midsummer-tee.report/report.html',
      '',
    ]);
  });

  it('puts the places behind the reading where there is room', () => {
    const lines = at(120).split('\n');
    expect(lines).toContain(
      '  thin-line   Coral           0.21 ± 0.02 mm, needs 0.31 (mesh 43/cm, 80 µm)  17 places, first 257.8, 149.9 mm',
    );
    expect(lines).toContain('              Thicken these lines, or print Coral through 77/cm (needs 0.18 mm).');
    expect(lines).toContain(
      '  order: 1 White base (43/cm), 2 flash, 3 cool-down, 4 Coral (43/cm), 5 Lagoon (43/cm), 6 Night (77/cm)',
    );
  });

  it.each([60, 72, 80, 100, 120])('is never wider than %d columns, whatever the names', (columns) => {
    for (const options of [{}, { hostile: true }, { inks: 12 }, { variant: 'notRun' }, { variant: 'ready' }] as const) {
      const text = renderText(inspectionFixture(options).report, { columns, colour: false, reportPath: null });
      for (const line of text.split('\n')) expect(line.length, line).toBeLessThanOrEqual(columns);
    }
  });

  it('emphasises only where it may, and the words stay the same', () => {
    const start = String.fromCharCode(27);
    expect(at(80)).not.toContain(start);
    const coloured = at(80, true);
    expect(coloured).toContain(`${start}[1mNot ready${start}[22m`);
    expect(coloured.replaceAll(`${start}[1m`, '').replaceAll(`${start}[22m`, '')).toBe(at(80));
  });

  it('lets nothing in a name reach the terminal as a command', () => {
    const text = renderText(inspectionFixture({ hostile: true }).report, {
      columns: 80,
      colour: false,
      reportPath: null,
    });
    expect(text.replaceAll('\n', '')).not.toMatch(/\p{Cc}|\p{Bidi_Control}/u);
  });

  it('says what a film that cannot be opened needs', () => {
    const error = {
      file: 'a.pdf',
      code: 'truncated-file',
      message: 'The file ends too early.',
      remedy: 'Send it again.',
    };
    const text = renderText(
      { ...report, verdict: 'couldNotRun', films: [], plates: [], checks: [], error },
      { columns: 80, colour: false, reportPath: null },
    );
    expect(text).toContain('Not checked');
    expect(text.split('\n').slice(1, 5)).toEqual(['', '  a.pdf', '    The file ends too early.', '    Send it again.']);
    expect(text).not.toContain('0 films');
  });
});

describe('the press plan in a terminal', () => {
  it('lists stations in order and keeps control characters out', () => {
    const { report: hostile } = inspectionFixture({ hostile: true });
    const text = renderPlan(hostile);
    expect(text.replaceAll('\n', '')).not.toMatch(/\p{Cc}|\p{Bidi_Control}/u);
    expect(renderPlan(report)).toContain('  1  White base, 43/cm');
    for (const line of renderPlan(report).split('\n')) expect(line.length).toBeLessThanOrEqual(80);
  });
});

describe('a job with many findings of one check', () => {
  const thinLine = report.checks.find((check) => check.id === 'thin-line')!;
  const many = {
    ...thinLine,
    findings: Array.from({ length: 20 }, (_, index) => ({ ...thinLine.findings[0], code: `code-${index}` })),
  };
  const text = renderText({ ...report, checks: [many] }, { columns: 80, colour: false, reportPath: null });

  it('lists the worst and counts the rest', () => {
    expect(text.match(/^ {2}thin-line/gm)).toHaveLength(12);
    expect(text).toContain('and 8 more in the report');
  });
});
