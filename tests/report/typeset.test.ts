import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import PDFDocument from 'pdfkit';
import { chromium } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type FontSubset, type FontWeight, loadFont } from '../../src/report/assets/loadFonts.ts';
import { Typesetter } from '../../src/report/pdf/typeset.ts';
import { hasOracle, runOracle } from '../support/oraclePrograms.ts';

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'plateglass-type-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const sizePt = 100;
const samples: readonly (readonly [FontSubset, readonly string[]])[] = [
  ['latin', ['AVATAR', 'Tovar', 'WAVE,', 'office', 'lift', 'offtype', 'Lagoon', '0.21\u2009mm', 'carte', 'fjord']],
  ['latin-ext', ['Őř', 'Ťł', 'ăĄ']],
  ['greek', ['Ωμέγα', 'ΤΑΥ']],
  ['cyrillic', ['Дом', 'ГУДОК', 'Та']],
];
const words = samples.flatMap(([, texts]) => texts);

/** A PDF with a word a line, 60 pt from the left. */
async function pdfOf(weight: FontWeight): Promise<Buffer> {
  const doc = new PDFDocument({ size: [1200, 120 * words.length + 60], margin: 0 });
  const chunks: Buffer[] = [];
  doc.on('data', (chunk: Buffer) => chunks.push(chunk));
  const ended = new Promise((resolve) => doc.on('end', resolve));
  const type = new Typesetter(doc);
  words.forEach((word, index) => {
    type.drawLabel(word, 60, 120 * (index + 1), sizePt, weight === 600, 'text', 'start');
  });
  doc.end();
  await ended;
  return Buffer.concat(chunks);
}

/** How wide a browser sets each word, points. */
async function widthsInBrowser(weight: FontWeight): Promise<number[]> {
  const browser = await chromium.launch({
    executablePath: '/usr/bin/chromium',
    args: ['--no-sandbox', '--disable-gpu'],
  });
  try {
    const page = await browser.newPage();
    const widths: number[] = [];
    for (const [subset, texts] of samples) {
      const data = loadFont(subset, weight, 'woff2').toString('base64');
      // Canvas text of 1,000 px: a pixel is a thousandth of the size of type.
      const wide = (await page.evaluate(`(async () => {
        const font = new FontFace('set', 'url(data:font/woff2;base64,${data})');
        document.fonts.add(await font.load());
        const pen = document.createElement('canvas').getContext('2d');
        pen.font = '1000px set';
        pen.fontKerning = 'normal';
        const widths = ${JSON.stringify(texts)}.map((text) => pen.measureText(text).width);
        document.fonts.delete(font);
        return widths;
      })()`)) as number[];
      widths.push(...wide.map((width) => (width * sizePt) / 1000));
    }
    return widths;
  } finally {
    await browser.close();
  }
}

describe('words set into a PDF', () => {
  it.each<FontWeight>([400, 600])(
    'are as wide as a browser sets them, kerned, joined and thinly spaced: %i',
    async (weight) => {
      if (!hasOracle('pdftotext') || !hasOracle('chromium')) return;
      const file = join(folder, `words-${weight}.pdf`);
      writeFileSync(file, await pdfOf(weight));
      const boxes = runOracle('pdftotext', ['-bbox', file, '-'])!.matchAll(
        /xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)"/g,
      );
      const found = new Map<number, { left: number; right: number }>();
      for (const [, left, top, right] of boxes) {
        const row = Math.round(Number(top) / 120);
        const known = found.get(row) ?? { left: Number(left), right: Number(right) };
        found.set(row, { left: Math.min(known.left, Number(left)), right: Math.max(known.right, Number(right)) });
      }
      const set = [...found].sort(([a], [b]) => a - b).map(([, { left, right }]) => right - left);
      const wanted = await widthsInBrowser(weight);
      expect(set).toHaveLength(words.length);
      words.forEach((word, index) => {
        expect(Math.abs(set[index] - wanted[index]), `${word}: ${set[index]}, ${wanted[index]}`).toBeLessThan(0.1);
      });
    },
  );
});
