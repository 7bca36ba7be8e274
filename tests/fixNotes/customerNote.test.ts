import { spawnSync } from 'node:child_process';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { customerNote, type NoteWish } from '../../src/fixNotes/customerNote.ts';
import { noteHtml } from '../../src/fixNotes/noteHtml.ts';
import { noteMarkdown } from '../../src/fixNotes/noteMarkdown.ts';
import { notePictures } from '../../src/fixNotes/notePicture.ts';
import { noteText } from '../../src/fixNotes/noteText.ts';
import type { ReportJson } from '../../src/report/reportJson.ts';
import { checkOf, findingOf, reportOf } from '../support/noteReports.ts';
import { hasOracle } from '../support/oraclePrograms.ts';

const wish: NoteWish = {
  language: 'en',
  units: 'mm',
  customer: null,
  shop: null,
  answerBy: null,
  phrases: {},
  weFix: [],
};
const thin = checkOf('thin-line', 'fail', [findingOf('x', { code: 'breaks-up', worse: 'less' })]);
const size = checkOf('oversize-art', 'fail', [
  findingOf('x', {
    code: 'larger-than-ordered',
    measured: { value: 80, unit: 'mm', plusMinus: 0.1 },
    inkNames: [],
    places: [],
    placesTotal: 0,
  }),
]);
const order = checkOf('print-order', 'fail', [
  findingOf('x', { code: 'dark-before-light', inkNames: ['Night', 'Coral'] }),
]);
const type = checkOf('live-type', 'needsReview', [
  findingOf('x', {
    code: 'font-not-embedded',
    outcome: 'needsReview',
    placesTotal: 2,
    measured: { value: 2, unit: 'count', plusMinus: 0 },
  }),
]);
const said = (report: ReportJson, more: Partial<NoteWish> = {}) =>
  noteText(customerNote(report, { ...wish, ...more })).replace(/\s+/g, ' ');

describe('the note to the customer', () => {
  it('asks most important first, numbered, with number, place, effect, request and offer', () => {
    const text = said(reportOf('fail', [thin, order, type, size]), { customer: 'Village Band' });
    expect(text).toContain('Hello Village Band,');
    expect(text).toContain('1. The art is 80.0 mm larger than the print ordered.');
    expect(text).toContain(
      '2. 17 lines in Coral are too thin, the thinnest 0.21 mm. Lines this thin fall between the threads of the mesh and break up. There are 17 places; the worst is 102.7 mm from the left and 44.1 mm from the top of tee.pdf, page 1. Please thicken them to at least 0.32 mm. Or may we change it for you?',
    );
    expect(text).toContain('Please tell us 3. 2 texts came without the font');
    expect(text).not.toContain('Night');
    expect(text).toContain('One more point is for us to settle');
    expect(text).toContain('If nothing changes, it prints as described above.');
  });

  it('leaves out what the shop has said it settles itself', () => {
    const text = said(reportOf('fail', [thin]), { weFix: ['thin-line'] });
    expect(text).toContain('Nothing is needed from you so far');
    expect(text).not.toContain('0.21');
  });

  it('calls a job ready only when it passed', () => {
    expect(said(reportOf('pass', []))).toContain('It is ready: we can make the films.');
    for (const verdict of ['needsReview', 'fail', 'couldNotRun'] as const)
      expect(said(reportOf(verdict, []))).not.toContain('It is ready');
  });

  it('asks what the files left open without telling how the shop reads them, and prints no number that was not measured', () => {
    const joined = [
      { code: 'two-nights', message: 'Film /srv/jobs/other-band/x.tif is called Night twice', open: true },
    ];
    const bare = checkOf('thin-line', 'needsReview', [
      findingOf('x', {
        code: 'not-measured',
        outcome: 'needsReview',
        measured: null,
        limit: null,
        places: [],
        placesTotal: 0,
      }),
    ]);
    const text = said(reportOf('needsReview', [bare], { joined }));
    expect(text).toContain('1. How your files belong together is not certain.');
    expect(text).not.toContain('other-band');
    expect(text).toContain('2. Part of the art in Coral could not be measured.');
    expect(text).not.toMatch(/\d mm[^)×]*could not|NaN|undefined|null/);
  });

  it('leaks no path and no remark of the report', () => {
    const report = reportOf('fail', [
      checkOf('thin-line', 'fail', [
        findingOf('secret', { code: 'breaks-up', details: ['remark for the press room'] }),
      ]),
    ]);
    const films = report.films.map((film) => ({ ...film, file: `/home/shop/customers/choir/${film.file}` }));
    const text = said({ ...report, films, job: { name: '/srv/films/tee', ticketFile: '/srv/ticket.yaml' } });
    expect(text).toContain('of tee.pdf');
    expect(text).not.toMatch(/home|srv|choir|remark|secret|ticket/);
  });

  it('stops after fifteen questions and says how many are left', () => {
    const many = Array.from({ length: 40 }, (_, n) =>
      findingOf('x', { code: 'breaks-up', inkNames: [`Ink ${n}`], placesTotal: n }),
    );
    const checks = many.map((finding, n) =>
      checkOf(n % 2 === 0 ? 'thin-line' : 'thin-gap', 'fail', [
        { ...finding, code: n % 2 === 0 ? 'breaks-up' : 'fills-in' },
      ]),
    );
    const text = said(reportOf('fail', checks));
    const numbers = [...text.matchAll(/ (\d+)\. /g)].map(([, number]) => Number(number));
    expect(Math.max(...numbers)).toBeLessThanOrEqual(15);
  });

  it('says when, in the shop’s own words where it has some', () => {
    const text = said(reportOf('fail', [thin]), {
      language: 'de',
      shop: 'Siebdruck am Dorfplatz',
      answerBy: { day: '2030-06-24', days: 3 },
      phrases: {
        greeting: { de: 'Liebe {customer},' },
        price: 'Änderungen kosten 15 €.',
        signature: '{shop}\nTelefon auf der Rechnung',
      },
      customer: 'Kapelle',
    });
    expect(text).toContain('Liebe Kapelle,');
    expect(text).toContain('bis 24. Juni 2030 Bescheid');
    expect(text).toContain('Änderungen kosten 15 €.');
    expect(text).toContain('Siebdruck am Dorfplatz Telefon auf der Rechnung');
  });
});

describe('its renderings', () => {
  const nasty = 'Co<b>ral</b> & *Night* [x](http://x.example) `y` _z_ | # 1. "q"';
  const report = reportOf('fail', [
    checkOf('thin-line', 'fail', [findingOf('x', { code: 'breaks-up', inkNames: [nasty], placesTotal: 1 })]),
  ]);

  it.skipIf(!hasOracle('python3'))('keep what comes from the file as text, in HTML as another parser reads it', () => {
    const html = noteHtml(customerNote(report, wish), new Map(), () => '');
    const script = `
import sys, html.parser
class P(html.parser.HTMLParser):
    def __init__(self):
        super().__init__(); self.tags=set(); self.text=''
    def handle_starttag(self, tag, attrs): self.tags.add(tag)
    def handle_data(self, data): self.text+=data
p=P(); p.feed(sys.stdin.read()); print(sorted(p.tags)); print(p.text)`;
    const { stdout } = spawnSync('python3', ['-c', script], { input: html, encoding: 'utf8' });
    expect(stdout).toContain(nasty);
    expect(stdout).not.toContain("'a'");
    expect(html).not.toContain('<script');
  });

  it('keep it as text in Markdown', () => {
    const markdown = noteMarkdown(customerNote(report, wish));
    expect(markdown).toContain(
      '\\<b\\>ral\\</b\\> \\& \\*Night\\* \\[x\\](http://x.example) \\`y\\` \\_z\\_ \\| \\# 1. "q"',
    );
  });

  it('keep to lines of 76 characters in plain text, and lose no word', () => {
    const note = customerNote(reportOf('fail', [thin, size, type]), wish);
    const text = noteText(note);
    expect(Math.max(...text.split('\n').map((line) => line.length))).toBeLessThanOrEqual(76);
    for (const item of note.sections.flatMap(({ items }) => items))
      expect(text.replace(/\s+/g, ' ')).toContain(item.places.replace(/\s+/g, ' '));
  });
});

it('a picture shows the place with a ring round it', async () => {
  // A film of 300 x 352 mm at 2 px a mm: blue, with a yellow square of 4 mm about the place at 102.7, 44.1 mm.
  const composite = await sharp({ create: { width: 600, height: 704, channels: 3, background: '#1b2a41' } })
    .composite([{ input: { create: { width: 8, height: 8, channels: 3, background: '#ffee00' } }, left: 201, top: 84 }])
    .png()
    .toBuffer();
  const report = reportOf('fail', [thin]);
  const pictures = await notePictures(report, customerNote(report, wish), composite);
  const picture = pictures.get(1)!;
  expect(picture.alt).toContain('102.7 mm from the left, 44.1 mm from the top'.replace(/ mm/g, '\u00a0mm'));
  const { data, info } = await sharp(picture.png).removeAlpha().raw().toBuffer({ resolveWithObject: true });
  expect([info.width, info.height]).toEqual([2 * picture.widthPx, 2 * picture.heightPx]);
  expect([picture.widthPx, picture.heightPx]).toEqual([320, 220]);
  let [yellow, light, sumX, sumY] = [0, 0, 0, 0];
  for (let at = 0; at < data.length; at += 3) {
    const [r, g, b] = data.subarray(at, at + 3);
    if (r > 230 && g > 210 && b < 60) {
      yellow += 1;
      sumX += (at / 3) % 640;
      sumY += Math.floor(at / 3 / 640);
    }
    if (r > 240 && g > 240 && b > 240) light += 1;
  }
  expect(yellow).toBeGreaterThan(800);
  expect(light).toBeGreaterThan(30);
  // The ring is drawn about the spot, which lies in the middle of the picture.
  expect(Math.abs(sumX / yellow - 320)).toBeLessThan(28);
  expect(Math.abs(sumY / yellow - 220)).toBeLessThan(28);
});
