import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { customerNote } from '../../src/fixNotes/customerNote.ts';
import { proofFacts } from '../../src/fixNotes/proofFacts.ts';
import { renderProof } from '../../src/fixNotes/renderProof.ts';
import { noteLanguages } from '../../src/fixNotes/words/wordsIn.ts';
import type { ReportDecision, ReportJson } from '../../src/report/reportJson.ts';
import { approvableReport, checkOf, findingOf } from '../support/noteReports.ts';
import { hasOracle } from '../support/oraclePrograms.ts';

const thin = checkOf('thin-line', 'fail', [findingOf('x', { code: 'breaks-up', inkNames: ['Coral'] })]);
const gap = checkOf('thin-gap', 'fail', [findingOf('x', { code: 'fills-in', inkNames: ['Night'], placesTotal: 1 })]);
const decision = (
  kind: ReportDecision['kind'],
  checkId: string,
  code: string,
  ink: string,
  undone = false,
): ReportDecision => ({
  ...{ kind, by: 'Mila of the press room', reason: 'remark within the shop', at: '2030-01-01T00:00:00Z' },
  finding: { checkId, code, inkNames: [ink] },
  undone: undone ? { at: '2030-01-02T00:00:00Z', by: 'Mila', reason: '' } : null,
});
const report = approvableReport([thin, gap]);
const decided = (...made: ReportDecision[]): ReportJson => ({
  ...report,
  decisions: { revision: 1, isSuperseded: false, standing: null, made, history: [] },
});
const wish = { language: 'en', units: 'mm', shop: 'Our screen room', weFix: [] } as const;
const linesUnder = (heading: RegExp, of: ReportJson) =>
  proofFacts(of, wish)!.lists.find((list) => heading.test(list.heading))?.lines ?? [];

describe('what has been decided', () => {
  it('stands on the proof as agreed, and is not asked for again', () => {
    const accepted = decided(
      decision('acceptFinding', 'thin-line', 'breaks-up', 'Coral'),
      decision('doOurselves', 'thin-gap', 'fills-in', 'Night'),
    );
    expect(linesUnder(/Agreed/, accepted)).toEqual([expect.stringMatching(/^17 lines in Coral are too thin/)]);
    expect(linesUnder(/Not settled/, accepted)).toEqual([]);
    const note = customerNote(accepted, { ...wish, customer: null, answerBy: null, phrases: {} });
    expect(note.sections).toEqual([]);
    expect(JSON.stringify([note, proofFacts(accepted, wish)])).not.toMatch(/Mila|remark/);
  });

  it('counts no more once it is undone, or for another ink', () => {
    for (const made of [
      decision('acceptFinding', 'thin-line', 'breaks-up', 'Coral', true),
      decision('acceptFinding', 'thin-line', 'breaks-up', 'Night'),
    ]) {
      expect(linesUnder(/Agreed/, decided(made))).toEqual([]);
      expect(linesUnder(/Not settled/, decided(made))).toHaveLength(2);
    }
  });
});

it('there is no proof of films whose size is not known', () => {
  expect(
    proofFacts({ ...report, films: report.films.map((film) => ({ ...film, scaleKnown: false })) }, wish),
  ).toBeNull();
});

describe('the page', () => {
  let folder: string;
  let composite: Buffer;
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'proof-'));
    composite = await sharp({ create: { width: 1200, height: 1408, channels: 3, background: '#20c040' } })
      .png()
      .toBuffer();
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  it.skipIf(!hasOracle('pdftotext')).each(noteLanguages)(
    'is one page with every figure of the report, in %s',
    async (language) => {
      const long = checkOf(
        'thin-gap',
        'fail',
        Array.from({ length: 30 }, (_, n) =>
          findingOf('x', { code: 'fills-in', inkNames: [`Ink number ${n} of a long name`], placesTotal: n + 1 }),
        ),
      );
      const crowded = {
        ...decided(decision('acceptFinding', 'thin-line', 'breaks-up', 'Coral')),
        checks: [thin, long],
      };
      const asked = { ...wish, language };
      const pdf = await renderProof(proofFacts(crowded, asked)!, asked, 'test', composite);
      const file = join(folder, `${language}.pdf`);
      writeFileSync(file, pdf);
      const read = spawnSync('pdftotext', ['-layout', file, '-'], { encoding: 'utf8' });
      const comma = language === 'en' ? '.' : ',';
      const text = read.stdout.replace(/\s+/g, ' ');
      for (const figure of [
        `300${comma}0 mm × 352${comma}0 mm`,
        `280${comma}0 mm × 330${comma}0 mm`,
        `0${comma}25 mm`,
        '1. Coral',
        '2. Night',
      ])
        expect(text).toContain(figure);
      expect(text).toMatch(/2 (?:screens|Siebe|pantallas)/);
      expect(text).toMatch(/Signature|Unterschrift|Firma/);
      expect(spawnSync('pdfinfo', [file], { encoding: 'utf8' }).stdout).toMatch(/Pages:\s+1\n/);
      expect((read.stdout.match(/\f/g) ?? []).length).toBe(1);
      // The art lies in the middle of a field of the garment's colour, at the proportions of the film.
      spawnSync('pdftoppm', ['-r', '72', '-png', '-singlefile', file, join(folder, language)]);
      const { data, info } = await sharp(join(folder, `${language}.png`))
        .removeAlpha()
        .raw()
        .toBuffer({ resolveWithObject: true });
      const bounds = (want: readonly [number, number, number]) => {
        let [left, right, up, down] = [info.width, 0, info.height, 0];
        for (let row = 0; row < info.height; row++)
          for (let column = 0; column < info.width; column++) {
            const at = 3 * (row * info.width + column);
            if (!want.every((value, n) => Math.abs(data[at + n] - value) < 6)) continue;
            [left, right] = [Math.min(left, column), Math.max(right, column)];
            [up, down] = [Math.min(up, row), Math.max(down, row)];
          }
        return { width: right - left + 1, height: down - up + 1, middle: (left + right) / 2 };
      };
      const art = bounds([0x20, 0xc0, 0x40]);
      const field = bounds([0x1b, 0x2a, 0x41]);
      expect(art.width / art.height).toBeCloseTo(300 / 352, 1.5);
      expect(Math.abs(art.middle - field.middle)).toBeLessThan(2);
      expect(field.width).toBeGreaterThan(art.width);
    },
  );
});
