import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { paintReport } from '../../src/report/paintedReport.ts';
import { renderHtml } from '../../src/report/renderHtml.ts';
import { renderPdf } from '../../src/report/renderPdf.ts';
import type { ReportDecisions } from '../../src/report/reportJson.ts';
import { hostileName, inspectionFixture } from '../support/inspectionFixture.ts';
import { hasOracle, runOracle } from '../support/oraclePrograms.ts';

const at = (minute: number) => `2026-06-21T08:${minute}:30.000Z`;
const decisions: ReportDecisions = {
  revision: 3,
  isSuperseded: false,
  standing: 'released',
  made: [
    {
      ...{ kind: 'acceptFinding', by: 'Mila', reason: 'held on the last run', at: at(10), undone: null },
      finding: { checkId: 'thin-line', code: 'beyond', inkNames: ['Coral'] },
    },
    {
      ...{ kind: 'askCustomer', by: 'Jon', reason: 'which blue', at: at(11), finding: null },
      undone: { at: at(12), by: 'Mila', reason: 'they answered' },
    },
    { kind: 'release', by: 'Mila', reason: '', at: at(13), finding: null, undone: null },
  ],
  history: [{ at: at(10), who: 'Ines', what: 'arrived', revision: 3 }],
};
const painted = async (made: ReportDecisions) => {
  const inspection = inspectionFixture();
  return paintReport({ ...inspection, report: { ...inspection.report, decisions: made } });
};

/** What the report must say, in this order. */
const said = [
  'Revision 3: released for filming.',
  '2026-06-21 08:10 UTC',
  'Accepted as it is: Lines are too thin for the mesh, Coral',
  'held on the last run',
  'Asked the customer, on hold until the answer',
  'Undone by Mila, 2026-06-21 08:12 UTC: they answered',
  'Released for filming',
  'arrived (revision 3)',
];

describe('a report handed out after people decided', () => {
  it('says on the page who decided what, when and why, before the findings', async () => {
    const page = renderHtml(await painted(decisions));
    const words = page
      .replace(/<style>.*?<\/style>/s, '')
      .replace(/<[^>]+>/g, ' ')
      .replace(/\s+/g, ' ');
    let from = 0;
    for (const part of said) {
      expect(words.indexOf(part, from), part).toBeGreaterThan(-1);
      from = words.indexOf(part, from);
    }
    expect(words.indexOf('What stops filming', from)).toBeGreaterThan(from);
  });

  it('says the same in the PDF', async () => {
    if (!hasOracle('pdftotext')) return;
    const folder = mkdtempSync(join(tmpdir(), 'plateglass-decisions-'));
    const file = join(folder, 'report.pdf');
    writeFileSync(file, await renderPdf(await painted(decisions)));
    const words = runOracle('pdftotext', ['-layout', file, '-']).replace(/\s+/g, ' ');
    rmSync(folder, { recursive: true });
    for (const part of ['Decisions', said[0], said[1], 'held on the last run', 'Undone by Mila', 'they answered'])
      expect(words, part).toContain(part);
  });

  it('says that nothing holds when a later revision came, and takes names and reasons for text only', async () => {
    const [first] = decisions.made;
    const page = renderHtml(
      await painted({ ...decisions, isSuperseded: true, made: [{ ...first, by: hostileName, reason: hostileName }] }),
    );
    expect(page).toContain('a later revision of this job came');
    expect(page).not.toContain('<script');
    expect(page).not.toContain('<b>&"');
  });

  it('is the report of the check, byte for byte, where nothing is said of decisions', async () => {
    const inspection = inspectionFixture();
    expect(renderHtml(await paintReport(inspection))).not.toContain('Decisions');
  });
});
