import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { artPlaceOf } from '../../src/fixNotes/artPlace.ts';
import { proofFacts } from '../../src/fixNotes/proofFacts.ts';
import { renderProof } from '../../src/fixNotes/renderProof.ts';
import { noteLanguages } from '../../src/fixNotes/words/wordsIn.ts';
import type { ReportJson, ReportPlacement } from '../../src/report/reportJson.ts';
import { resolveTicket } from '../../src/ticket/resolveTicket.ts';
import { approvableReport } from '../support/noteReports.ts';
import { hasOracle, runOracle } from '../support/oraclePrograms.ts';
import { type ReadPage, readByPdfium } from '../support/readByPdfium.ts';

const art = { xMm: 25, yMm: 15, widthMm: 250, heightMm: 300 };
const [green, plum] = ['#20c040', '#7a1f8f'];
const wish = { language: 'en', units: 'mm', shop: 'Our screen room', weFix: [] } as const;

/** A film of 300 by 352 mm with art from 25 to 275 mm across and from 15 to 315 mm down. */
function reportOf(placement: ReportPlacement | null, knowsArt = true): ReportJson {
  const base = approvableReport([]);
  return {
    ...base,
    films: base.films.map((film) => ({ ...film, artMm: knowsArt ? { ...art, plusMinusMm: 0.1 } : null })),
    ticket: { ...base.ticket, garmentHex: plum, print: { ...base.ticket.print, placement } },
  };
}

let folder: string;
let composite: Buffer;
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'placed-'));
  const block = await sharp({ create: { width: 1000, height: 1200, channels: 3, background: green } })
    .png()
    .toBuffer();
  composite = await sharp({ create: { width: 1200, height: 1408, channels: 3, background: plum } })
    .composite([{ input: block, left: 100, top: 60 }])
    .removeAlpha()
    .png()
    .toBuffer();
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function proofOf(
  report: ReportJson,
  more: Partial<Omit<typeof wish, 'language'>> & { language?: 'en' | 'es' | 'de' } = {},
) {
  const asked = { ...wish, ...more };
  return renderProof(proofFacts(report, asked)!, asked, 'test', composite);
}

/** A swatch of the same colour is smaller. */
const leastRun = 40;

/** The smallest box around all rows that have many pixels near a colour, in pixels. */
function boxOf({ pixels, widthPx, heightPx }: ReadPage, hex: string) {
  const want = [5, 3, 1].map((at) => Number.parseInt(hex.slice(at, at + 2), 16));
  const isNear = (at: number) => want.every((value, n) => Math.abs(pixels[at + n] - value) < 8);
  let [left, right, top, bottom] = [widthPx, -1, heightPx, -1];
  for (let row = 0; row < heightPx; row++) {
    const columns = Array.from({ length: widthPx }, (_, column) => column).filter((column) =>
      isNear(4 * (row * widthPx + column)),
    );
    if (columns.length < leastRun) continue;
    [left, right] = [Math.min(left, columns[0]), Math.max(right, columns.at(-1)! + 1)];
    [top, bottom] = [Math.min(top, row), Math.max(bottom, row + 1)];
  }
  return { left, right, top, bottom };
}

describe('the place on the garment', () => {
  it('is drawn to measure: below the collar, centred, between the seams', async () => {
    const garment = { garmentWidthMm: 520, garmentHeightMm: 700 };
    const [page] = await readByPdfium(await proofOf(reportOf({ belowCollarMm: 75, fromCentreMm: 0, ...garment })), 144);
    const [printed, field] = [boxOf(page, green), boxOf(page, plum)];
    const pxPerMm = (printed.right - printed.left) / art.widthMm;
    const mm = (px: number) => px / pxPerMm;
    // A seam is drawn 1.6 points wide on the edge, half of it on the garment.
    const within = 3 / pxPerMm;
    expect(Math.abs(mm(printed.top - field.top) - 75)).toBeLessThan(within);
    expect(Math.abs(mm(printed.bottom - printed.top) - art.heightMm)).toBeLessThan(within);
    expect(Math.abs(mm(field.right - field.left) - 520)).toBeLessThan(2 * within);
    expect(Math.abs(mm(field.bottom - field.top) - 700)).toBeLessThan(2 * within);
    expect(Math.abs(printed.left + printed.right - field.left - field.right)).toBeLessThan(6);
    const said = page.text.replace(/\s+/g, ' ');
    for (const figure of [
      '75.0 mm below the collar seam, centred',
      '250.0 mm × 300.0 mm',
      '300.0 mm × 352.0 mm',
      'collar seam',
      'hem',
    ])
      expect(said).toContain(figure);
    expect(said).not.toContain('not given');
  });

  it.each([
    // From the right seam of 520 mm: the art ends 40 mm before it.
    [
      { fromSideSeamMm: 40, side: 'right', garmentWidthMm: 520 },
      { leftMm: 260 - 40 - 250, leftSeamMm: -260 },
    ],
    [
      { fromSideSeamMm: 40, side: 'left', garmentWidthMm: 520 },
      { leftMm: -260 + 40, rightSeamMm: 260 },
    ],
    [
      { fromSideSeamMm: 40, side: 'left' },
      { leftMm: 40, leftSeamMm: 0, rightSeamMm: null, centreMm: null },
    ],
    [
      { fromCentreMm: 95, side: 'left' },
      { leftMm: -95 - 125, centreMm: 0, leftSeamMm: null },
    ],
    [
      { fromCentreMm: 95, side: 'right' },
      { leftMm: 95 - 125, centreMm: 0 },
    ],
    [{ belowCollarMm: 75 }, { topMm: 75, collarMm: 0, hemMm: null, leftMm: null, centreMm: null }],
    [
      { aboveHemMm: 80, garmentHeightMm: 700 },
      { topMm: 700 - 80 - 300, collarMm: 0, hemMm: 700 },
    ],
    [{ aboveHemMm: 80 }, { topMm: 0, collarMm: null, hemMm: 380 }],
    [{ fromCentreMm: 200, side: 'right', garmentWidthMm: 520 }, { isWithin: false }],
    [{ belowCollarMm: 410, garmentHeightMm: 700 }, { isWithin: false }],
    [{ belowCollarMm: 400, garmentHeightMm: 700 }, { isWithin: true }],
  ] as const)('is where %j puts it', (placement, expected) => {
    expect(artPlaceOf(placement, art)).toMatchObject(expected);
  });

  it.each(noteLanguages)(
    'is said not to be given, and none is drawn, where the ticket gives none, in %s',
    async (language) => {
      for (const placement of [null, {}, { garmentWidthMm: 520 }]) {
        const facts = proofFacts(reportOf(placement), { ...wish, language })!;
        expect(facts.place).toBeNull();
        const value = facts.facts.find(({ term }) => /^(Place on|Lugar en|Ort auf)/.test(term))!.value;
        expect(value).toMatch(/^(not given|no se indica|nicht angegeben)$/);
      }
    },
  );

  it('is said but not drawn where the art could not be told from its marks', () => {
    const facts = proofFacts(reportOf({ belowCollarMm: 75, fromCentreMm: 0 }, false), wish)!;
    expect(facts.place).toBeNull();
    expect(JSON.stringify(facts.facts)).toMatch(/75\.0\s*mm below the collar seam, centred \(given, but not drawn/);
  });

  it('says when the art reaches beyond the garment', () => {
    const facts = proofFacts(reportOf({ fromCentreMm: 200, side: 'right', garmentWidthMm: 520 }), wish)!;
    expect(JSON.stringify(facts.lists)).toContain('reaches beyond the garment');
  });

  it.skipIf(!hasOracle('pdffonts'))(
    'keeps to one page of selectable text, with its fonts, and a sharp picture',
    async () => {
      for (const language of noteLanguages) {
        const file = join(folder, `${language}.pdf`);
        const placement = { aboveHemMm: 80, fromSideSeamMm: 40, side: 'right' } as const;
        const pdf = await proofOf(reportOf(placement), { language, units: 'inch' as never });
        writeFileSync(file, pdf);
        expect(runOracle('pdfinfo', [file])).toMatch(/Pages:\s+1\n/);
        const fonts = runOracle('pdffonts', [file]).trim().split('\n').slice(2);
        expect(fonts.length).toBeGreaterThan(0);
        for (const font of fonts) expect(font).toMatch(/\s+yes yes yes\s+\d+\s+0$/);
        const pictures = runOracle('pdfimages', ['-list', file]).trim().split('\n').slice(2);
        for (const picture of pictures) expect(Number(picture.trim().split(/\s+/)[12])).toBeGreaterThanOrEqual(200);
        // 80 mm are 3.15 in, 40 mm are 1.57 in.
        const { stdout } = spawnSync('pdftotext', ['-layout', file, '-'], { encoding: 'utf8' });
        const [byPoppler, byPdfium] = [stdout, (await readByPdfium(pdf))[0].text].map((text) =>
          text.replace(/\s+/g, ' '),
        );
        const comma = language === 'en' ? '.' : ',';
        for (const text of [byPoppler, byPdfium])
          for (const figure of [
            `3${comma}15 in (80${comma}0 mm)`,
            `1${comma}57 in (40${comma}0 mm)`,
            '1. Coral',
            '2. Night',
          ])
            expect(text).toContain(figure);
      }
    },
  );
});

describe('print.placement on the ticket', () => {
  const ticketOf = (text: string, shop?: string) =>
    resolveTicket({
      ticket: { fileName: 'ticket.yaml', text },
      ...(shop !== undefined && { shop: { fileName: 'shop.yaml', text: shop } }),
    });

  it('comes from the ticket, else from the shop, else from nowhere', () => {
    const shop = 'print: { placement: { belowCollarMm: 80, fromCentreMm: 0 } }';
    expect(ticketOf('print: { placement: { belowCollarMm: 60 } }', shop).print.placement).toEqual({
      ...{ value: { belowCollarMm: 60 }, from: 'ticket' },
    });
    expect(ticketOf('job: x', shop).print.placement).toMatchObject({ from: 'shop' });
    expect(ticketOf('job: x').print.placement).toBeNull();
  });

  it.each([
    ['{ belowCollarMm: 75, aboveHemMm: 80 }', 'not both'],
    ['{ fromCentreMm: 75, fromSideSeamMm: 80, side: left }', 'not both'],
    ['{ fromCentreMm: 75 }', 'left or right'],
    ['{ fromSideSeamMm: 0 }', 'left or right'],
    ['{ belowCollarMm: -1 }', 'a length in mm'],
  ])('refuses %s', (placement, expected) => {
    try {
      ticketOf(`print: { placement: ${placement} }`);
      expect.unreachable();
    } catch (error) {
      expect(JSON.stringify((error as { problems: unknown }).problems)).toContain(expected);
    }
  });
});
