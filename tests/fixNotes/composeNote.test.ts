import { describe, expect, it } from 'vitest';
import type { CheckResult, Finding } from '../../src/findings/finding.ts';
import { composeNote } from '../../src/fixNotes/composeNote.ts';
import type { ReportJson } from '../../src/report/reportJson.ts';

function findingOf(advice: string, more: Partial<Finding> = {}): Finding {
  return {
    code: 'some-code',
    outcome: 'fail',
    plateIds: ['p1'],
    inkNames: ['Coral'],
    measured: { value: 0.21, unit: 'mm', plusMinus: 0.02 },
    limit: {
      value: 0.3126,
      unit: 'mm',
      from: 'mesh',
      rule: 'mesh 43/cm, 80 µm: one opening and two threads',
      source: 'a source',
    },
    places: [{ filmId: 'f1', xMm: 101.24, yMm: 44, widthMm: 3, heightMm: 0.2, value: 0.21 }],
    placesTotal: 17,
    details: [],
    advice: { customer: `To the customer: ${advice}`, printer: `To the printer: ${advice}` },
    ...more,
  };
}

function checkOf(id: string, outcome: CheckResult['outcome'], findings: readonly Finding[], why: string | null = null) {
  return {
    id,
    title: id,
    asks: '',
    outcome,
    why,
    findings,
    tightest: null,
    readingsTotal: 1,
    sources: [],
  } as CheckResult;
}

function reportOf(
  verdict: ReportJson['verdict'],
  checks: readonly CheckResult[],
  more: Partial<ReportJson> = {},
): ReportJson {
  const film = (id: string, file: string, page: number) => ({ id, file, page, widthMm: 300, heightMm: 352 });
  return {
    verdict,
    job: { name: 'Midsummer tee', ticketFile: null },
    ticket: { file: null, screens: [] },
    inks: [],
    plates: [{}, {}, {}],
    films: [film('f1', 'tee.pdf', 1), film('f2', 'tee.pdf', 2)],
    joined: [],
    checks,
    ...more,
  } as unknown as ReportJson;
}

const thin = checkOf('thin-line', 'fail', [findingOf('Lines will break up. Please thicken them to 0.32 mm.')]);
const wrongSize = checkOf('oversize-art', 'fail', [
  findingOf('The art is 380.0 mm wide. Please shrink it.', { places: [], placesTotal: 0, inkNames: [] }),
]);
const order = checkOf('print-order', 'fail', [findingOf('Print Coral before Night.')]);
const text = checkOf('live-type', 'needsReview', [
  findingOf('Please send outlines', { outcome: 'needsReview', placesTotal: 1 }),
]);

describe('the customer’s note', () => {
  it('asks for one thing a number, the most important first, with its place', () => {
    const note = composeNote(reportOf('fail', [thin, order, text, wrongSize]), { for: 'customer' });
    expect(note).toBe(`# Midsummer tee: your artwork

Hello,

thank you for your artwork. Before making any film we looked at your file tee.pdf, 300 × 352 mm.

## Please change

1. To the customer: The art is 380.0 mm wide. Please shrink it.
2. To the customer: Lines will break up. Please thicken them to 0.32 mm. 17 places; the worst is 101.2 mm from the left and 44.0 mm from the top of tee.pdf, page 1.

## Please tell us

3. To the customer: Please send outlines. It is 101.2 mm from the left and 44.0 mm from the top of tee.pdf, page 1.

1 more point we settle here; nothing is needed from you for that.

Please answer in writing, by number: a new file, or "print it as it is". If nothing changes, it prints as described above. We make the films when we have your answer.

Thank you.
`);
  });

  it('says nothing of what only the printer can settle', () => {
    const note = composeNote(reportOf('fail', [order]), { for: 'customer' });
    expect(note).toContain('Nothing is needed from you. 1 point is for us to settle.');
    expect(note).not.toContain('Print Coral before Night');
    const silent = checkOf('thin-gap', 'fail', [findingOf('', { advice: { customer: ' ', printer: 'Open it.' } })]);
    expect(composeNote(reportOf('fail', [silent]), { for: 'customer' })).toContain('Nothing is needed from you.');
  });

  it('calls a job ready only when it passed', () => {
    const passed = composeNote(reportOf('pass', [checkOf('thin-line', 'pass', [])]), { for: 'customer' });
    expect(passed).toContain('ready to film');
    for (const verdict of ['needsReview', 'fail', 'couldNotRun'] as const) {
      expect(composeNote(reportOf(verdict, []), { for: 'customer' })).not.toContain('ready to film');
    }
  });

  it('asks what the files left open', () => {
    const joined = [
      { code: 'two-nights', message: 'Two films are called Night', open: true },
      { code: 'named', message: 'Coral was named by its file.', open: false },
    ];
    const note = composeNote(reportOf('needsReview', [], { joined }), { for: 'customer' });
    expect(note).toContain('1. Two films are called Night.\n');
    expect(note).not.toContain('named by its file');
  });

  it('stops after fifteen requests and says how many are left', () => {
    const many = Array.from({ length: 40 }, (_, index) => findingOf(`Line ${index} breaks.`));
    const note = composeNote(reportOf('fail', [checkOf('thin-line', 'fail', many)]), { for: 'customer' });
    expect(note).toContain('\n15. ');
    expect(note).not.toContain('\n16. ');
    expect(note).toContain('And 25 more like these, all in the report.');
  });
});

describe('the printer’s note', () => {
  it('gives the check, the ink, the reading and the limit with its rule', () => {
    const note = composeNote(reportOf('fail', [thin, order, text]), { for: 'printer' });
    expect(note).toContain('# Midsummer tee: Not ready');
    expect(note).toContain('3 films from 1 file, 300 × 352 mm, shop defaults, no ticket.');
    expect(note).toContain(
      '1. thin-line, Coral: 0.21 ± 0.02 mm, needs 0.31 mm (mesh 43/cm, 80 µm). To the printer: Lines will break up.',
    );
    expect(note).toContain('2. print-order, Coral:');
    expect(note).toContain('## Look first\n\n3. live-type, Coral:');
  });

  it('says whose a limit is when the mesh did not set it', () => {
    const limit = { value: 0.35, unit: 'mm', from: 'ticket', rule: 'limits.minLineMm', source: 'your ticket' } as const;
    const note = composeNote(reportOf('fail', [checkOf('thin-line', 'fail', [findingOf('Thicken.', { limit })])]), {
      for: 'printer',
    });
    expect(note).toContain('needs 0.35 mm (your ticket, limits.minLineMm).');
  });

  it('says openly what was not checked', () => {
    const checks = [
      checkOf('marks-disagree', 'couldNotRun', [], 'The film could not be drawn.'),
      checkOf('short-trap', 'needsReview', [], 'No edge was long enough'),
      checkOf('thin-line', 'pass', []),
    ];
    const note = composeNote(reportOf('couldNotRun', checks), { for: 'printer' });
    expect(note).toContain(
      '## Not checked\n\n- marks-disagree: The film could not be drawn.\n- short-trap: No edge was long enough\n',
    );
    expect(note).toContain('1 check fine.');
  });

  it('writes no number where nothing was measured', () => {
    const bare = findingOf('Look at it.', { measured: null, limit: null, places: [], placesTotal: 0 });
    const note = composeNote(reportOf('fail', [checkOf('unknown-scale', 'fail', [bare])]), { for: 'printer' });
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
  const reason = 'The text "Summer" has no font.';
  const waiting = ['thin-line', 'thin-gap'].map((id) =>
    checkOf(id, 'needsReview', [
      findingOf(`Not settled: ${reason}`, { code: 'not-verified', outcome: 'needsReview', waitingOn: [reason] }),
    ]),
  );

  it('are asked for once, for all their inks, and without one place for all', () => {
    const note = composeNote(reportOf('fail', [alike]), { for: 'customer' });
    expect(note).toContain(
      '1. To the customer: May we add a base under Coral? The same goes for Lagoon, Night and Honey.\n',
    );
    expect(note).not.toContain('2. ');
    const printed = composeNote(reportOf('fail', [alike]), { for: 'printer' });
    expect(printed).toContain('1. underbase-missing, 4 inks (Coral, Lagoon, Night, Honey): each 0.21 ± 0.02 mm,');
  });

  it('are asked for once when they wait on one thing, and not at all when that is asked for already', () => {
    const note = composeNote(reportOf('needsReview', waiting), { for: 'customer' });
    expect(note.split(reason)).toHaveLength(2);
    const asked = checkOf('live-type', 'fail', [findingOf('“Summer” came without its font. Please send outlines.')]);
    const both = composeNote(reportOf('fail', [asked, ...waiting]), { for: 'customer' });
    expect(both).not.toContain(reason);
    expect(both).not.toContain('settle here');
  });
});

describe('inches', () => {
  it('stand beside the millimetres', () => {
    const note = composeNote(reportOf('fail', [thin]), { for: 'printer', units: 'inch' });
    // 300 / 25.4 = 11.8, 352 / 25.4 = 13.9; 0.21 / 25.4 = 0.0083, 0.02 / 25.4 = 0.0008; 101.2 / 25.4 = 3.98.
    expect(note).toContain('300 × 352 mm (11.8 × 13.9 in)');
    expect(note).toContain('0.21 ± 0.02 mm (0.008 ± 0.001 in)');
    expect(note).toContain('101.2 mm (4.0 in) from the left');
  });

  it('are not given twice', () => {
    const already = findingOf('Keep 25 mm (1 in) clear.');
    const note = composeNote(reportOf('fail', [checkOf('platen-overrun', 'fail', [already])]), {
      for: 'printer',
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
    const note = composeNote(report, { for: 'printer' });
    expect(note.split('\n')[0]).toBe('# Tee ## Ready: Not ready');
  });
});
