import { chromium } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { type FontSubset, type FontWeight, loadFont } from '../../src/report/assets/loadFonts.ts';
import { subsetTypeface } from '../../src/report/typeface/subsetTypeface.ts';
import { Typeface } from '../../src/report/typeface/typeface.ts';
import { woffTables } from '../../src/report/typeface/woffTables.ts';
import { hasOracle } from '../support/oraclePrograms.ts';

const subsets = ['latin', 'latin-ext', 'greek', 'cyrillic'] as const;

/** OpenType, "Calculating checksums": the sum of a table's 32-bit words; head's own adjustment counts as 0. */
function checkSum(table: Buffer, isHead: boolean): number {
  const padded = Buffer.concat([table, Buffer.alloc(-table.length & 3)]);
  let sum = 0;
  for (let at = 0; at < padded.length; at += 4) {
    if (!isHead || at !== 8) sum = (sum + padded.readUInt32BE(at)) >>> 0;
  }
  return sum;
}

describe('the bundled type', () => {
  it.each(subsets)('is unpacked table by table: %s', (subset) => {
    const woff = loadFont(subset, 400, 'woff');
    const count = woff.readUInt16BE(12);
    const entries = Array.from({ length: count }, (_, index) => {
      const at = 44 + index * 20;
      return { tag: woff.toString('latin1', at, at + 4), sum: woff.readUInt32BE(at + 16) };
    });
    const tables = woffTables(
      woff,
      entries.map(({ tag }) => tag),
    );
    expect(count).toBeGreaterThan(8);
    // The file states the sum of each table as it was before it was packed.
    for (const { tag, sum } of entries) expect(checkSum(tables.get(tag)!, tag === 'head'), tag).toBe(sum);
    expect(() => woffTables(Buffer.alloc(64), ['head'])).toThrow(RangeError);
  });

  it('is set as wide as a browser sets it, with its kerning and ligatures', async () => {
    if (!hasOracle('chromium')) return;
    const samples: readonly (readonly [FontSubset, readonly string[]])[] = [
      [
        'latin',
        ['AVATAR', 'Tovar', 'WAVE, To.', 'office', 'lift', 'offtype', 'Lagoon', '0.21', '±', 'à la carte', 'fjord'],
      ],
      ['latin-ext', ['Őř', 'Ťł', 'ăĄ']],
      ['greek', ['Ωμέγα', 'ΤΑΥ']],
      ['cyrillic', ['Дом', 'ГУДОК', 'Та']],
    ];
    const browser = await chromium.launch({
      executablePath: '/usr/bin/chromium',
      args: ['--no-sandbox', '--disable-gpu'],
    });
    try {
      const page = await browser.newPage();
      for (const weight of [400, 600] as FontWeight[]) {
        for (const [subset, texts] of samples) {
          const face = new Typeface(loadFont(subset, weight, 'woff'));
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
          texts.forEach((text, index) => {
            expect(face.shape(text).width, `${text} in ${subset} ${weight}`).toBeCloseTo(wide[index], 0);
          });
        }
      }
    } finally {
      await browser.close();
    }
  });

  it('kerns, and joins letters that the face draws as one', () => {
    const face = new Typeface(loadFont('latin', 400, 'woff'));
    const alone = (letter: string) => face.shape(letter).width;
    expect(face.shape('AV').width).toBeLessThan(alone('A') + alone('V') - 10);
    const letters: string[] = [];
    expect(face.shape('offt', (_, text) => letters.push(text)).glyphs).toHaveLength(2);
    expect(letters).toEqual(['o', 'fft']);
  });
});

describe('a face with some glyphs alone', () => {
  const face = new Typeface(loadFont('latin-ext', 400, 'woff'));
  const [accented] = face.shape('ő').glyphs;
  const sfnt = subsetTypeface(face, [accented]);
  const tables = new Map(
    Array.from({ length: sfnt.readUInt16BE(4) }, (_, index) => {
      const at = 12 + 16 * index;
      const [sum, offset, length] = [4, 8, 12].map((field) => sfnt.readUInt32BE(at + field));
      return [sfnt.toString('latin1', at, at + 4), { sum, bytes: sfnt.subarray(offset, offset + length) }] as const;
    }),
  );

  it('states the sums of its tables and of itself', () => {
    expect([...tables.keys()]).toEqual(['glyf', 'head', 'hhea', 'hmtx', 'loca', 'maxp']);
    for (const [tag, { sum, bytes }] of tables) expect(checkSum(bytes, tag === 'head'), tag).toBe(sum);
    // OpenType, "head": a file with its adjustment in place sums to 0xB1B0AFBA.
    expect(checkSum(sfnt, false)).toBe(0xb1b0afba);
  });

  it('keeps the number of glyphs and leaves out the outlines that were not asked for', () => {
    const count = tables.get('maxp')!.bytes.readUInt16BE(4);
    const loca = tables.get('loca')!.bytes;
    expect(loca.length).toBe(4 * (count + 1));
    const drawn = Array.from({ length: count }, (_, glyph) => glyph).filter(
      (glyph) => loca.readUInt32BE(4 * glyph) < loca.readUInt32BE(4 * glyph + 4),
    );
    expect(drawn).toContain(accented);
    // Glyph 0, the letter, and, where it is put together, its parts.
    expect(drawn.length).toBeLessThanOrEqual(4);
    expect(tables.get('glyf')!.bytes.length).toBe(loca.readUInt32BE(4 * count));
  });
});
