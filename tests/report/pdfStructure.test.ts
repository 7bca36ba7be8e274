import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { paintReport } from '../../src/report/paintedReport.ts';
import { renderPdf } from '../../src/report/renderPdf.ts';
import type { ReportJson } from '../../src/report/reportJson.ts';
import { type FixtureOptions, inspectionFixture } from '../support/inspectionFixture.ts';
import { hasOracle, runOracle } from '../support/oraclePrograms.ts';
import { flattened, objectsOf, type PdfDictionary, structureOf } from '../support/pdfStructure.ts';

type Case = FixtureOptions & { readonly register?: boolean };
const every: Case[] = [
  {},
  { variant: 'ready' },
  { variant: 'notRun' },
  { inks: 12 },
  { hostile: true },
  { register: true },
];

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'plateglass-structure-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const made = new Map<string, Promise<string>>();

/** The file of a fixture's report, set once. */
function pdfOf(options: Case): Promise<string> {
  const key = JSON.stringify(options);
  const file = made.get(key) ?? setPdf(options, join(folder, `report-${made.size}.pdf`));
  made.set(key, file);
  return file;
}

async function setPdf({ register, ...options }: Case, file: string): Promise<string> {
  const inspection = inspectionFixture(options);
  const report = register ? { ...inspection.report, registration } : inspection.report;
  writeFileSync(file, await renderPdf(await paintReport({ ...inspection, report })));
  return file;
}

const registration: ReportJson['registration'] = {
  referencePlateId: 'p1',
  plates: [
    {
      plateId: 'p2',
      dxMm: 0.214,
      dyMm: -0.12,
      rotationDeg: 0.0805,
      rotationPlusMinusDeg: 0.0021,
      scale: 1.0004,
      scalePlusMinus: 0.00004,
      residualMm: 0.31,
      marksUsed: 2,
      scaleX: 1.0012,
      scaleY: 0.9996,
      skewDeg: 0,
      model: 'affine',
      residuals: [
        { xMm: 10, yMm: 20, dxMm: 0.3, dyMm: 0 },
        { xMm: 190, yMm: 20, dxMm: -0.3, dyMm: 0 },
      ],
      worstOffsetMm: 0.5,
      plusMinusMm: 0.007,
      movedMark: null,
      worstOnArt: { xMm: 150, yMm: 80, displacementMm: 0.41 },
      worstAfterFit: { xMm: 150, yMm: 80, displacementMm: 0.12 },
      artFit: null,
    },
  ],
};

describe('the PDF read aloud', () => {
  it('is a document in one language under its own title', async () => {
    if (!hasOracle('qpdf')) return;
    const { trailer, objects } = objectsOf(await pdfOf({}));
    const root = objects.get(trailer['/Root'] as string)!;
    const within = (key: string) => objects.get(root[key] as string);
    expect(root['/Lang']).toBe('u:en');
    expect(within('/MarkInfo')).toEqual({ '/Marked': true });
    expect(within('/ViewerPreferences')).toEqual({ '/DisplayDocTitle': true });
    expect(within('/StructTreeRoot')?.['/Type']).toBe('/StructTreeRoot');
    const pages = [...objects.values()].filter((dictionary) => dictionary['/Type'] === '/Page');
    expect(pages.length).toBeGreaterThan(2);
    for (const page of pages) {
      expect(page['/Tabs']).toBe('/S');
      expect(typeof page['/StructParents']).toBe('number');
    }
  });

  it('has the headings of the page, none a level too deep', async () => {
    if (!hasOracle('pdfinfo')) return;
    const headings = flattened(structureOf(await pdfOf({}))).filter(({ tag }) => /^H\d$/.test(tag));
    const words = (level: string) => headings.filter(({ tag }) => tag === level).map(({ text }) => text.trim());
    expect(words('H1')).toEqual(['Not ready']);
    expect(words('H2')).toEqual([
      'What stops filming',
      'Look first',
      'Measured and fine',
      'Where inks meet',
      'Not checked, and why',
      'For the press',
      'Provenance',
    ]);
    expect(words('H3')).toContain('Spread, choke or close up');
    expect(words('H3')).toContain('Coral / Lagoon');
    expect(words('H4')).toContain('Colours overlap too little');
    headings.forEach(({ tag, text }, index) => {
      const before = index === 0 ? 0 : Number(headings[index - 1].tag[1]);
      expect(Number(tag[1]), text).toBeLessThanOrEqual(before + 1);
    });
  });

  it.each(every)('has tables of even rows under headings, and lists of items: %o', async (options) => {
    if (!hasOracle('pdfinfo')) return;
    const elements = flattened(structureOf(await pdfOf(options)));
    const tables = elements.filter(({ tag }) => tag === 'Table');
    expect(tables.length).toBeGreaterThan(3);
    for (const { children: rows } of tables) {
      expect(new Set(rows.map(({ tag }) => tag))).toEqual(new Set(['TR']));
      expect(rows.length).toBeGreaterThan(1);
      expect(new Set(rows.map(({ children }) => children.length)).size).toBe(1);
      const [head, ...others] = rows;
      for (const cell of head.children) {
        expect(cell).toMatchObject({ tag: 'TH', attributes: { Scope: '/Column' } });
        expect(cell.text.trim()).not.toBe('');
      }
      for (const { children } of others) {
        const heads = children.filter(({ tag }) => tag === 'TH');
        expect(heads.map(({ attributes }) => attributes.Scope)).toEqual(['/Row']);
        expect(children.filter(({ tag }) => tag === 'TD')).toHaveLength(children.length - 1);
      }
    }
    const childrenOf = (tag: string) => [
      ...new Set(
        elements.filter((element) => element.tag === tag).flatMap(({ children }) => children.map((c) => c.tag)),
      ),
    ];
    expect(childrenOf('L')).toEqual(['LI']);
    expect(childrenOf('LI').sort()).toEqual(['LBody', 'Lbl']);
  });

  it('lists what was measured beside the figure that shows it', async () => {
    if (!hasOracle('pdfinfo')) return;
    const document = structureOf(await pdfOf({ register: true }));
    const at = document.children.findIndex(({ tag, text }) => tag === 'H2' && text.trim() === 'Register');
    const [, heading, list, figure] = document.children.slice(at + 1);
    expect([heading.tag, heading.text.trim()]).toEqual(['H3', 'Coral']);
    expect(list.tag).toBe('L');
    const items = list.children.map(({ children }) => children.map(({ text }) => text.trim()));
    expect(items).toContainEqual(['Fitted by', expect.stringContaining('2 marks')]);
    expect(figure.tag).toBe('Figure');
  });

  it('is read in the order of the page, with a space between any two words', async () => {
    if (!hasOracle('pdfinfo')) return;
    const text = flattened(structureOf(await pdfOf({})))
      .map((element) => element.text)
      .join('')
      .replace(/\s+/g, ' ');
    let at = -1;
    for (const words of [
      'Not ready',
      '300 × 352 mm (11.8 × 13.9 in)',
      'What stops filming',
      'Colours overlap too little',
      '0.08 ± 0.01 mm, needs 0.25 mm (shop default, trap of the shop)',
      'For the printer',
      'Spread Coral by 0.17 mm under Lagoon.',
      'For the customer',
      'Look first',
      'Optical density of printed film. The films came as files; nothing was held to a light.',
      'Flash units, dryers and fresh prints burn.',
      'Plateglass 0.1.0',
    ]) {
      const found = text.indexOf(words, at + 1);
      expect(found, words).toBeGreaterThan(at);
      at = found;
    }
    // What stands on every page is read on none.
    expect(text).not.toMatch(/\d of \d /);
  });

  it.each(every)('says of every figure what it shows, and of every link where it lies: %o', async (options) => {
    if (!hasOracle('qpdf')) return;
    const { objects } = objectsOf(await pdfOf(options));
    const all = [...objects.values()];
    const figures = all.filter((dictionary) => dictionary['/S'] === '/Figure');
    expect(figures.length).toBeGreaterThan(8);
    for (const figure of figures) {
      expect(figure['/Alt']).toMatch(/^u:[^\p{Cc}]+$/u);
      expect((figure['/A'] as PdfDictionary)['/BBox']).toHaveLength(4);
    }
    const annotations = [...objects].filter(([, dictionary]) => dictionary['/Subtype'] === '/Link');
    const links = all.filter((dictionary) => dictionary['/S'] === '/Link');
    expect(annotations.length).toBeGreaterThan(1);
    expect(links).toHaveLength(annotations.length);
    for (const [reference, annotation] of annotations) {
      expect(annotation['/Contents']).toMatch(/^u:./);
      expect(typeof annotation['/StructParent']).toBe('number');
      const page = all.find(({ '/Annots': own }) => Array.isArray(own) && own.includes(reference))!;
      const link = links.find(({ '/K': kids }) => (kids as PdfDictionary[]).some((kid) => kid['/Obj'] === reference))!;
      const kid = (link['/K'] as PdfDictionary[]).find((child) => child['/Obj'] === reference)!;
      expect(objects.get(kid['/Pg'] as string)).toBe(page);
    }
  });

  it.each(every)('paints nothing that is neither content nor decoration: %o', async (options) => {
    if (!hasOracle('qpdf')) return;
    const file = await pdfOf(options);
    const { objects } = objectsOf(file);
    const pages = [...objects.values()].filter((dictionary) => dictionary['/Type'] === '/Page');
    let painted = 0;
    for (const page of pages) {
      const [number] = (page['/Contents'] as string).split(' ');
      const lines = runOracle('qpdf', [`--show-object=${number}`, '--filtered-stream-data', file]).split('\n');
      const numbers: number[] = [];
      let depth = 0;
      for (const line of lines) {
        if (/\bB[DM]C$/.test(line)) depth += 1;
        if (line === 'EMC') depth -= 1;
        const content = /\/MCID (\d+)/.exec(line);
        if (content) numbers.push(Number(content[1]));
        if (/(^|\s)(TJ|Tj|Do|S|f\*?|B\*?|b\*?)$/.test(line)) {
          painted += 1;
          expect(depth, line).toBe(1);
        }
      }
      expect(depth).toBe(0);
      expect(numbers).toEqual(numbers.map((_, index) => index));
      expect(numbers.length).toBeGreaterThan(0);
    }
    expect(painted).toBeGreaterThan(100);
  });
});
