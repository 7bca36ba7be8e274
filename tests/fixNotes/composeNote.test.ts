import { describe, expect, it } from 'vitest';
import { composeNote } from '../../src/fixNotes/composeNote.ts';
import type { ReportDecision } from '../../src/report/reportJson.ts';
import { checkOf, findingOf, reportOf } from '../support/noteReports.ts';

const thin = checkOf('thin-line', 'fail', [findingOf('Lines will break up. Please thicken them to 0.32 mm.')]);
const order = checkOf('print-order', 'fail', [findingOf('Print Coral before Night.')]);
const text = checkOf('live-type', 'needsReview', [
  findingOf('Please send outlines', { outcome: 'needsReview', placesTotal: 1 }),
]);

describe('the printer’s note', () => {
  it('gives the check, the ink, the reading and the limit with its rule', () => {
    const note = composeNote(reportOf('fail', [thin, order, text]));
    expect(note).toContain('# Midsummer tee: Not ready');
    expect(note).toContain('3 films from 1 file, 300 × 352 mm, shop defaults, no ticket.');
    expect(note).toContain(
      '1. thin-line, Coral: 0.21 ± 0.02 mm, needs 0.31 mm (mesh 43/cm, 80 µm). To the printer: Lines will break up.',
    );
    expect(note).toContain('2. print-order, Coral:');
    expect(note).toContain('## Look first\n\n3. live-type, Coral:');
  });

  it('has its advice in the language of the shop', () => {
    const known = checkOf('thin-line', 'fail', [findingOf('Thicken.', { code: 'breaks-up', worse: 'less' })]);
    expect(composeNote(reportOf('fail', [known]), { language: 'de' })).toContain(
      'Auf mindestens 0,32\u00a0mm verstärken, oder feineres Gewebe nehmen.',
    );
    expect(composeNote(reportOf('fail', [known]), { language: 'es' })).toContain('Engrosar a 0,32\u00a0mm como mínimo');
    expect(composeNote(reportOf('fail', [known]))).toContain('To the printer: Thicken.');
    // 0.3126 mm are 0.8861 points of 1/72 in.
    const inInches = composeNote(reportOf('fail', [known]), { language: 'de', units: 'inch' });
    expect(inInches).toContain('Auf mindestens 0,9\u00a0pt (0,32\u00a0mm) verstärken');
    // 0.21 mm are 0.595 points of 1/72 in, 0.02 mm 0.057.
    expect(inInches).toContain('0,6\u00a0pt (0,21\u00a0mm) ± 0,1\u00a0pt (0,02\u00a0mm)');
    const bare = checkOf('thin-line', 'fail', [findingOf('Look.', { code: 'breaks-up', measured: null, limit: null })]);
    expect(composeNote(reportOf('fail', [bare]), { language: 'de' })).toContain('To the printer: Look.');
  });

  it.each([
    ['de', 'Nicht bereit', 'Hält das Belichten auf', 'Erst ansehen', 'Nicht geprüft'],
    ['es', 'No está listo', 'Impide hacer los fotolitos', 'Mirar antes', 'Sin comprobar'],
  ] as const)('has its headings and readings in %s', (language, verdict, stops, look, notChecked) => {
    const unread = checkOf('marks-disagree', 'couldNotRun', [], 'The film could not be drawn.');
    const note = composeNote(reportOf('fail', [thin, text, unread]), { language });
    expect(note.split('\n').filter((line) => line.startsWith('#'))).toEqual([
      `# Midsummer tee: ${verdict}`,
      ...[stops, look, notChecked].map((heading) => `## ${heading}`),
    ]);
    expect(note).toContain('0,21 ± 0,02\u00a0mm');
    expect(note).toMatch(/43\/cm, 80 µm/);
    expect(note).not.toMatch(/Stops filming|Look first|from the left|shop defaults|needs/);
  });

  it('puts first what the shop puts right itself, and asks nothing of what was accepted', () => {
    const decision = (kind: ReportDecision['kind'], checkId: string): ReportDecision => ({
      ...{ kind, by: 'Mila', reason: 'trapped by hand', at: '2030-01-01T00:00:00Z', undone: null },
      finding: { checkId, code: 'some-code', inkNames: ['Coral'] },
    });
    const made = [decision('doOurselves', 'print-order'), decision('acceptFinding', 'thin-line')];
    const decisions = { revision: 1, isSuperseded: false, standing: null, made, history: [] };
    const note = composeNote({ ...reportOf('fail', [thin, order, text]), decisions }, { weFix: ['live-type'] });
    expect(note).toMatch(/## Ours to do\n\n1\. print-order, Coral: .* Taken on by Mila: trapped by hand\./);
    expect(note).toMatch(/\n2\. live-type, Coral:/);
    expect(note).not.toMatch(/thin-line|Stops filming|Look first/);
    expect(note).toContain('1 point is accepted as it is.');
  });

  it('says whose a limit is when the mesh did not set it', () => {
    const limit = { value: 0.35, unit: 'mm', from: 'ticket', rule: 'limits.minLineMm', source: 'your ticket' } as const;
    const note = composeNote(reportOf('fail', [checkOf('thin-line', 'fail', [findingOf('Thicken.', { limit })])]));
    expect(note).toContain('needs 0.35 mm (your ticket, limits.minLineMm).');
  });

  it('says openly what was not checked', () => {
    const checks = [
      checkOf('marks-disagree', 'couldNotRun', [], 'The film could not be drawn.'),
      checkOf('short-trap', 'needsReview', [], 'No edge was long enough'),
      checkOf('thin-line', 'pass', []),
    ];
    const note = composeNote(reportOf('couldNotRun', checks));
    expect(note).toContain(
      '## Not checked\n\n- marks-disagree: The film could not be drawn.\n- short-trap: No edge was long enough\n',
    );
    expect(note).toContain('1 check fine.');
  });

  it('writes no number where nothing was measured', () => {
    const bare = findingOf('Look at it.', { measured: null, limit: null, places: [], placesTotal: 0 });
    const note = composeNote(reportOf('fail', [checkOf('unknown-scale', 'fail', [bare])]));
    expect(note).toContain('1. unknown-scale, Coral: To the printer: Look at it.\n');
  });
});

describe('findings gathered as in the report', () => {
  const names = ['Coral', 'Lagoon', 'Night', 'Honey'];
  const alike = checkOf(
    'underbase-missing',
    'fail',
    names.map((name) => findingOf(`May we add a base under ${name}?`, { inkNames: [name] })),
  );

  it('stand there once, for all their inks', () => {
    const printed = composeNote(reportOf('fail', [alike]));
    expect(printed).toContain('1. underbase-missing, 4 inks (Coral, Lagoon, Night, Honey): each 0.21 ± 0.02 mm,');
    expect(printed).not.toContain('2. ');
  });
});

describe('inches', () => {
  it('stand beside the millimetres', () => {
    const note = composeNote(reportOf('fail', [thin]), { units: 'inch' });
    // 300 / 25.4 = 11.8, 352 / 25.4 = 13.9; 0.21 / 25.4 = 0.0083, 0.02 / 25.4 = 0.0008; 101.2 / 25.4 = 3.98.
    expect(note).toContain('300 × 352 mm (11.8 × 13.9 in)');
    expect(note).toContain('0.21 ± 0.02 mm (0.008 ± 0.001 in)');
    expect(note).toContain('101.2 mm (4.0 in) from the left');
  });

  it('are not given twice', () => {
    const already = findingOf('Keep 25 mm (1 in) clear.');
    const note = composeNote(reportOf('fail', [checkOf('platen-overrun', 'fail', [already])]), {
      units: 'inch',
    });
    expect(note).toContain('Keep 25 mm (1 in) clear.');
  });
});

describe('text from files', () => {
  it('stays one line and shows no control characters', () => {
    const report = reportOf('fail', [thin], {
      job: { name: 'Tee\n## Ready\u0007\u202E', ticketFile: null },
    });
    const note = composeNote(report);
    expect(note.split('\n')[0]).toBe('# Tee ## Ready: Not ready');
  });
});
