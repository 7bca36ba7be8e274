import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { paintReport } from '../../src/report/paintedReport.ts';
import { renderPdf } from '../../src/report/renderPdf.ts';
import { type FixtureOptions, inspectionFixture } from '../support/inspectionFixture.ts';
import { hasOracle, runOracle } from '../support/oraclePrograms.ts';
import { readByPdfium } from '../support/readByPdfium.ts';

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'plateglass-pdf-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** The program's output on the PDF; null, said aloud, where the program is missing. */
function asked(program: string, args: readonly string[], pdf: Uint8Array): string | null {
  const file = join(folder, 'report.pdf');
  writeFileSync(file, pdf);
  if (!hasOracle(program)) return null;
  return runOracle(
    program,
    args.map((argument) => (argument === 'FILE' ? file : argument)),
  );
}

const plain = (text: string) => text.replace(/\s+/g, ' ');

describe('the report as a PDF', () => {
  it('carries every finding, in the order of the page, as text', async () => {
    const inspection = inspectionFixture();
    const words = asked('pdftotext', ['-layout', 'FILE', '-'], await renderPdf(await paintReport(inspection)));
    if (words === null) return;
    const text = plain(words);
    let at = -1;
    const parts = ['Not ready', 'Midsummer tee', 'What stops filming', 'Look first', 'Measured and fine'];
    for (const part of [...parts, 'Not checked, and why', 'For the press', 'Provenance', 'Plateglass 0.1.0']) {
      const found = text.indexOf(part, at + 1);
      expect(found, part).toBeGreaterThan(at);
      at = found;
    }
    for (const check of inspection.report.checks) {
      if (check.findings.length > 0) expect(text).toContain(check.title);
    }
    expect(text).toContain('0.21 ± 0.02 mm, needs 0.31 mm');
    expect(text).toContain('14 more places');
    expect(text).toContain(inspection.report.films[0].sha256);
  });

  it('leads from the first page to every part and finding', async () => {
    const inspection = inspectionFixture();
    const places = asked('pdfinfo', ['-dests', 'FILE'], await renderPdf(await paintReport(inspection)));
    if (places === null) return;
    const names = [...places.matchAll(/"([^"]+)"\s*$/gm)].map(([, name]) => name);
    const parts = ['stops', 'look-first', 'fine', 'not-checked', 'press', 'provenance'];
    const findings = inspection.report.checks.flatMap(({ id, findings }) =>
      findings.map((_, index) => `${id}-${index + 1}`),
    );
    for (const name of [...parts, ...findings]) expect(names).toContain(name);
  });

  it('states its title and language, in letters of any alphabet', async () => {
    const inspection = inspectionFixture();
    for (const name of ['Midsummer (tee) \\ 2', 'Őszi Дом 祭']) {
      const report = { ...inspection.report, job: { ...inspection.report.job, name } };
      const facts = asked(
        'pdfinfo',
        ['-enc', 'UTF-8', 'FILE'],
        await renderPdf(await paintReport({ ...inspection, report })),
      );
      if (facts === null) return;
      expect(facts).toContain(`Title:           Not ready: ${name}\n`);
      expect(facts).toMatch(/Page size: +595\.28 x 841\.89 pts \(A4\)/);
      expect(facts).toMatch(/JavaScript: +no/);
    }
  });

  it('draws letters with all their parts', async () => {
    const inspection = inspectionFixture();
    const inkOf = async (name: string) => {
      const report = { ...inspection.report, job: { ...inspection.report.job, name } };
      const crop = '-singlefile -f 1 -r 144 -x 80 -y 165 -W 500 -H 45 -gray -png'.split(' ');
      const picture = asked(
        'pdftoppm',
        [...crop, 'FILE', join(folder, 'name')],
        await renderPdf(await paintReport({ ...inspection, report })),
      );
      if (picture === null) return null;
      const { data } = await sharp(readFileSync(join(folder, 'name.png')))
        .raw()
        .toBuffer({ resolveWithObject: true });
      return data.reduce((sum, grey) => sum + (255 - grey), 0) / 255;
    };
    const [bare, marked] = [await inkOf('oooooooooo'), await inkOf('őőőőőőőőőő')];
    if (bare === null || marked === null) return;
    expect(bare).toBeGreaterThan(300);
    expect(marked).toBeGreaterThan(bare * 1.15);
  });

  it('is read and drawn by PDFium too, page for page', async () => {
    const pdf = await renderPdf(await paintReport(inspectionFixture()));
    const pages = await readByPdfium(pdf);
    const words = asked('pdftotext', ['-layout', 'FILE', '-'], pdf);
    if (words === null) return;
    expect(pages).toHaveLength(words.split('\f').length - 1);
    const text = plain(pages.map((page) => page.text).join(' '));
    for (const said of ['Not ready', 'Midsummer tee', 'What stops filming', 'Provenance']) expect(text).toContain(said);
    for (const { pixels } of pages) expect(pixels.some((value, at) => at % 4 === 1 && value < 64)).toBe(true);
  });

  it('numbers its pages', async () => {
    const words = asked('pdftotext', ['-layout', 'FILE', '-'], await renderPdf(await paintReport(inspectionFixture())));
    if (words === null) return;
    const pages = words.split('\f').slice(0, -1);
    pages.forEach((page, index) => {
      expect(page).toContain(`${index + 1} of ${pages.length}`);
    });
  });

  it.each<FixtureOptions>([{}, { variant: 'ready' }, { inks: 12 }, { hostile: true }])(
    'is a sound file with its type within and nothing that runs: %o',
    async (options) => {
      const pdf = await renderPdf(await paintReport(inspectionFixture(options)));
      const raw = Buffer.from(pdf).toString('latin1');
      expect(raw.startsWith('%PDF-')).toBe(true);
      expect(raw).not.toMatch(/\/(JavaScript|JS|Launch|URI|EmbeddedFile)\b/);
      const sound = asked('qpdf', ['--check', 'FILE'], pdf);
      if (sound !== null) expect(sound).toMatch(/No syntax or stream encoding errors/);
      const fonts = asked('pdffonts', ['FILE'], pdf);
      if (fonts === null) return;
      const rows = fonts.trim().split('\n').slice(2);
      expect(rows.length).toBeGreaterThan(0);
      // Columns: name, type, encoding, embedded, subset, has Unicode map.
      for (const row of rows) expect(row).toMatch(/SourceSans3.* yes +yes +yes /);
    },
  );

  it('keeps headings off the foot of a page and pictures in one piece', async () => {
    for (const options of [{}, { inks: 12 }, { hostile: true }] as const) {
      const words = asked(
        'pdftotext',
        ['-bbox', 'FILE', '-'],
        await renderPdf(await paintReport(inspectionFixture(options))),
      );
      if (words === null) return;
      for (const page of words.split('<page ').slice(1)) {
        const found = [...page.matchAll(/yMin="([\d.]+)" xMax="[\d.]+" yMax="([\d.]+)">([^<]*)</g)];
        const inText = found.filter(([, yMin]) => Number(yMin) < 795);
        // 54 pt of foot margin on 841.89: no text line may reach into it but the page number.
        for (const [, , yMax, word] of inText) expect(Number(yMax), word).toBeLessThanOrEqual(841.89 - 54 + 4);
        // Headings of parts are 15 pt: their boxes are taller than 17 pt, and something must follow on the page.
        const lowest = Math.max(...inText.map(([, , yMax]) => Number(yMax)));
        const headings = inText.filter(([, yMin, yMax]) => Number(yMax) - Number(yMin) > 17);
        for (const [, , yMax, word] of headings) expect(lowest, word).toBeGreaterThan(Number(yMax) + 20);
      }
    }
  });

  it('shows letters of other alphabets and marks those it has no shape for', async () => {
    const inspection = inspectionFixture();
    const report = { ...inspection.report, job: { ...inspection.report.job, name: 'Őszi Дом Ωμέγα 祭' } };
    const words = asked(
      'pdftotext',
      ['-layout', 'FILE', '-'],
      await renderPdf(await paintReport({ ...inspection, report })),
    );
    if (words === null) return;
    expect(plain(words)).toContain('Őszi Дом Ωμέγα ?');
  });

  it('sets names of any length without end', async () => {
    const inspection = inspectionFixture();
    const name = `${'x'.repeat(5000)} ${'long '.repeat(1000)}`;
    const report = {
      ...inspection.report,
      job: { ...inspection.report.job, name },
      inks: inspection.report.inks.map((ink) => ({ ...ink, name: `${ink.name}${name}` })),
    };
    const pdf = await renderPdf(await paintReport({ ...inspection, report }));
    expect(
      Buffer.from(pdf)
        .toString('latin1')
        .match(/\/Type \/Page\b/g)!.length,
    ).toBeLessThan(12);
  });

  it('is the same bytes for the same inspection', async () => {
    const inspection = inspectionFixture();
    const [first, second] = [
      await renderPdf(await paintReport(inspection)),
      await renderPdf(await paintReport(inspection)),
    ];
    expect(Buffer.compare(Buffer.from(first), Buffer.from(second))).toBe(0);
  });
});
