import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { paintReport } from '../../src/report/paintedReport.ts';
import { renderHtml } from '../../src/report/renderHtml.ts';
import { renderPdf } from '../../src/report/renderPdf.ts';
import { renderText } from '../../src/report/renderText.ts';
import type { ReportJson } from '../../src/report/reportJson.ts';
import { tagsOf, textOf } from '../support/htmlTags.ts';
import { type FixtureOptions, inspectionFixture } from '../support/inspectionFixture.ts';
import { hasOracle, runOracle } from '../support/oraclePrograms.ts';

const plain = (text: string) => text.replace(/\s+/g, ' ');
const painted = (options: FixtureOptions, change: (report: ReportJson) => ReportJson = (same) => same) => {
  const inspection = inspectionFixture(options);
  return paintReport({ ...inspection, report: change(inspection.report) });
};
const sectionOf = (page: string) => /<section aria-labelledby="meetings">[\s\S]*?<\/section>/.exec(page)?.[0] ?? '';
const withoutPairs = (report: ReportJson): ReportJson => ({ ...report, pairs: [], underbase: null });

/** The words of a PDF as another program reads them; null, said aloud, where it is missing. */
async function pdfWords(pdf: Promise<Uint8Array>, between = ' '): Promise<string | null> {
  if (!hasOracle('pdftotext')) return null;
  const folder = mkdtempSync(join(tmpdir(), 'plateglass-meetings-'));
  try {
    const file = join(folder, 'report.pdf');
    writeFileSync(file, await pdf);
    const pages = runOracle('pdftotext', ['-layout', file, '-']).split('\f');
    return pages.map(plain).join(between);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

describe('how inks meet, on the page', () => {
  it('shows a pair something was found about in full, with the way to the finding', async () => {
    const section = sectionOf(renderHtml(await painted({})));
    const article = /<article class="finding" id="pair-p2-p3"[\s\S]*?<\/article>/.exec(section)![0];
    expect(article).toContain('href="#short-trap-1"');
    expect(plain(textOf(article))).toContain('Overlap0.08 to 0.27 mm, median 0.27 ± 0.02 mm (0.8 pt)');
    expect(tagsOf(article).find(({ name }) => name === 'svg')?.attributes['aria-label']).toBe(
      'Length by width: overlap 200.0 mm, most at 0.25 to 0.30 mm, needs 0.25 mm',
    );
  });

  it('lists few pairs openly and folds many, every one of them once', async () => {
    const few = sectionOf(renderHtml(await painted({})));
    expect(few).toContain('<details open><summary>2 pairs without a finding</summary>');
    const many = sectionOf(renderHtml(await painted({ inks: 12 })));
    // Twelve inks make 66 pairs, eleven of them with the base; one has a finding.
    expect(many).toContain('<details><summary>54 pairs without a finding</summary>');
    const rows = /<summary>54 pairs[\s\S]*?<\/details>/.exec(many)![0];
    expect(rows.match(/<tr><th scope="row">/g)).toHaveLength(54);
    expect(many.match(/id="pair-p\d+-p\d+"/g)).toHaveLength(1);
  });

  it('shows six pairs with a finding in full and the others as rows', async () => {
    const all = (report: ReportJson): ReportJson => ({
      ...report,
      checks: report.checks.map((check) =>
        check.id !== 'short-trap'
          ? check
          : {
              ...check,
              findings: report.pairs.slice(11, 31).map(({ plateIds }) => ({
                ...check.findings[0],
                plateIds,
                inkNames: plateIds,
                places: [],
                placesTotal: 0,
              })),
            },
      ),
    });
    const section = sectionOf(renderHtml(await painted({ inks: 12 }, all)));
    expect(section.match(/<article class="finding" id="pair-/g)).toHaveLength(6);
    expect(section).toContain('<summary>14 more pairs with a finding</summary>');
    expect(section).toContain('<summary>35 pairs without a finding</summary>');
  });

  it('tells of the base what lies bare and what stands alone', async () => {
    const text = plain(textOf(sectionOf(renderHtml(await painted({})))));
    for (const words of [
      'Peeks outalong 14.0 mm',
      '1 strip: 30.0 mm of Coral, 0.42 ± 0.02 mm wide',
      '62.5 mm² of Coral at 40.0, 81.6 mm',
      '118.0 mm² of base without colour on top',
      // 280 of 8,800 mm².
      'Night88.0 cm²2.8 cm²3.2 %',
    ])
      expect(text).toContain(words);
  });

  it('is left away where nothing meets, with the way to it', async () => {
    const page = renderHtml(await painted({}, withoutPairs));
    expect(page).not.toContain('Where inks meet');
    expect(page).not.toContain('#meetings');
  });
});

describe('how inks meet, in the PDF', () => {
  it('says of every pair what the page says', async () => {
    const words = await pdfWords(renderPdf(await painted({ inks: 12 })));
    if (words === null) return;
    expect(words).toContain('Where inks meet');
    expect(words).toContain('0.08 to 0.27 mm, median 0.27 ± 0.02 mm (0.8 pt)');
    expect(words).toContain('54 pairs without a finding');
    expect(words.match(/ ± 0\.02 mm 0\.\d\d mm/g)).toHaveLength(54);
    expect(words).toContain('The base under the colours');
    expect(words).toContain('Without base straight below');
  });

  it('begins on the page of the first pair, wherever the page ends', async () => {
    // Ever more passed checks before it push the section over the foot of the page.
    for (let more = 0; more < 60; more += 3) {
      const longer = (report: ReportJson): ReportJson => {
        const passed = report.checks.find(({ outcome }) => outcome === 'pass')!;
        return { ...report, checks: [...report.checks, ...Array.from({ length: more }, () => passed)] };
      };
      const words = await pdfWords(renderPdf(await painted({}, longer)), '\f');
      if (words === null) return;
      const page = words.split('\f').find((candidate) => candidate.includes('Where inks meet'))!;
      expect(page.slice(page.indexOf('Where inks meet')), `${more} more`).toContain('Common edge');
    }
  });

  it('leaves it away where nothing meets', async () => {
    const words = await pdfWords(renderPdf(await painted({}, withoutPairs)));
    if (words !== null) expect(words).not.toContain('Where inks meet');
  });
});

describe('how inks meet, in a terminal', () => {
  const at80 = (report: ReportJson) => renderText(report, { columns: 80, colour: false, reportPath: null });

  it('gives the worst four pairs a line and counts the rest', () => {
    const text = at80(inspectionFixture({ inks: 12 }).report);
    const lines = text.slice(text.indexOf('Where inks meet')).split('\n\n')[0].split('\n').slice(1);
    const starts = lines.filter((line) => /^ {2}\S/.test(line));
    expect(starts).toHaveLength(5);
    expect(starts[0]).toMatch(/^ {2}Lantern \/ Coral +200\.0 mm of edge; overlap 0\.08 to 0\.27/);
    expect(starts[4]).toMatch(/^ {2}White base +the base: peeks out along 14\.0 mm/);
    expect(plain(text)).toContain('and 51 more pairs in the report, 51 without a finding');
  });

  it('says nothing where nothing meets', () => {
    expect(at80(withoutPairs(inspectionFixture().report))).not.toContain('Where inks meet');
  });
});
