import { PDFDocument } from '@cantoo/pdf-lib';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { UnreadableFilmError } from '../../../src/artwork/unreadableFilmError.ts';
import { pdfReader } from '../../../src/readers/pdf/pdfReader.ts';
import { drawFilm, readFilm, readFilms } from './support/drawFilm.ts';
import { spot, tinyPdf } from './support/tinyPdf.ts';

const resources = `/ColorSpace<</L ${spot('Lagoon')}>>`;
const plain = () => tinyPdf({ content: '/L cs 1 scn 10 10 30 20 re f', resources });

async function codeOf(promise: Promise<unknown>): Promise<string> {
  try {
    await promise;
    return 'opened';
  } catch (error) {
    if (!(error instanceof UnreadableFilmError)) throw error;
    expect(error.message).toMatch(/^The .*\.$/);
    expect(error.remedy).toMatch(/\.$/);
    return error.code;
  }
}

async function locked(userPassword: string, ownerPassword: string): Promise<Uint8Array> {
  const document = await PDFDocument.load(plain());
  document.encrypt({ userPassword, ownerPassword });
  return document.save({ useObjectStreams: false });
}

describe('opening PDFs', () => {
  it('recognises the header within the first kilobyte, whatever the name', () => {
    expect(pdfReader.recognises(plain().subarray(0, 4096))).toBe(true);
    expect(pdfReader.recognises(Buffer.from(`junk before\n%PDF-1.4`))).toBe(true);
    expect(pdfReader.recognises(Buffer.from('%!PS-Adobe-3.0'))).toBe(false);
    expect(pdfReader.recognises(new Uint8Array())).toBe(false);
  });

  it('opens a file locked for its owner only', async () => {
    const film = await readFilm(await locked('', 'boss'));
    expect((await drawFilm(film, ['spot:Lagoon'], 72)).area('spot:Lagoon')).toBe(600);
  });

  it('asks for a password, refuses a wrong one, takes the right one', async () => {
    const bytes = await locked('dorf', 'boss');
    expect(await codeOf(readFilms(bytes))).toBe('password-needed');
    expect(await codeOf(readFilms(bytes, 'fest'))).toBe('wrong-password');
    const [film] = await readFilms(bytes, 'dorf');
    expect((await drawFilm(film, ['spot:Lagoon'], 72)).area('spot:Lagoon')).toBe(600);
  });

  it('opens a film without a password though the job has one', async () => {
    expect(await codeOf(readFilms(plain(), 'dorf'))).toBe('opened');
    expect(await codeOf(readFilms(await locked('', 'boss'), 'dorf'))).toBe('opened');
  });

  it('says what is wrong with files it cannot open', async () => {
    expect(await codeOf(readFilms(new Uint8Array()))).toBe('empty-file');
    expect(await codeOf(readFilms(Buffer.from('%PDF-1.7\n')))).toBe('truncated-file');
    expect(await codeOf(readFilms(Buffer.from('%PDF-1.7\n%%EOF\n')))).toMatch(/damaged-file|no-page/);
    expect(await codeOf(readFilms(tinyPdf([])))).toBe('no-page');
  });

  it('opens files with junk before the header and with wrong offsets', async () => {
    const bytes = Buffer.from(plain());
    const film = await readFilm(new Uint8Array(Buffer.concat([Buffer.from('mail header\r\n\r\n'), bytes])));
    expect(film.inks.map(({ name }) => name)).toEqual(['Lagoon']);
    const wrong = Buffer.from(bytes.toString('latin1').replace(/startxref\n\d+/, 'startxref\n7'), 'latin1');
    expect((await readFilm(wrong)).inks.map(({ name }) => name)).toEqual(['Lagoon']);
  });

  it('casts doubt on the plates of a file that breaks off', async () => {
    const bytes = plain();
    for (const share of [0.5, 0.7, 0.9]) {
      const cut = bytes.subarray(0, Math.floor(bytes.length * share));
      try {
        const film = await readFilm(cut);
        expect(film.notes.some(({ affects }) => affects === 'plate')).toBe(true);
      } catch (error) {
        expect(error).toBeInstanceOf(UnreadableFilmError);
      }
    }
  });

  it('ends on forms that draw themselves and on deep nesting', async () => {
    const film = await readFilm(
      tinyPdf({ content: '/F Do', resources: `${resources}/XObject<</F 10 0 R>>` }, [
        {
          entries: `/Subtype/Form/BBox[0 0 100 100]/Resources<<${resources}/XObject<</F 10 0 R>>>>`,
          data: '/L cs 1 scn 0 0 5 5 re f /F Do',
        },
      ]),
    );
    expect(film.objects.length).toBe(1);
    expect(film.notes.map(({ code, affects }) => `${code}/${affects}`)).toContain('too-deep/plate');
  });

  it('ends on forms, letters and patterns that multiply without end', async () => {
    const inner = (k: number) => `/Resources<<${resources}/XObject<</F ${11 + k} 0 R>>/Pattern<</P ${11 + k} 0 R>>>>`;
    const forms = [0, 1, 2, 3, 4, 5, 6, 7].map((k) => ({
      entries: `/Subtype/Form/BBox[0 0 100 100]${inner(k)}`,
      data: k === 7 ? '0 0 1 1 re f' : '/F Do '.repeat(10),
    }));
    expect(await codeOf(readFilms(tinyPdf({ content: '/F Do', resources: '/XObject<</F 10 0 R>>' }, forms)))).toBe(
      'too-complex',
    );
    const tiles = [0, 1, 2, 3, 4, 5].map((k) => ({
      entries: `/PatternType 1/PaintType 1/BBox[0 0 1 1]/XStep .5/YStep .5${inner(k)}`,
      data: k === 5 ? '0 0 1 1 re f' : '/Pattern cs /P scn 0 0 1 1 re f',
    }));
    const film = await readFilm(
      tinyPdf({ content: '/Pattern cs /P scn 0 0 100 100 re f', resources: '/Pattern<</P 10 0 R>>' }, tiles),
    );
    expect(film.notes.map(({ code, affects }) => `${code}/${affects}`)).toContain('too-many-tiles/plate');
  });

  it('is never silent about commands it does not know', async () => {
    const film = await readFilm(tinyPdf({ content: '/L cs 1 scn 0 0 5 5 re f zap /Missing Do /No gs', resources }));
    const notes = film.notes.filter(({ affects }) => affects === 'plate').map(({ message }) => message);
    expect(notes.length).toBe(3);
    expect(notes.join()).toContain('zap');
  });

  it('lets commands pass that stand between BX and EX', async () => {
    const film = await readFilm(tinyPdf({ content: 'BX zap EX /L cs 1 scn 0 0 5 5 re f', resources }));
    expect(film.notes).toEqual([]);
  });

  it('throws nothing but UnreadableFilmError, whatever the bytes', async () => {
    const bytes = plain();
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.tuple(fc.nat(bytes.length - 1), fc.nat(255)), { maxLength: 30 }),
        async (changes) => {
          const broken = bytes.slice();
          for (const [at, value] of changes) broken[at] = value;
          await codeOf(readFilms(broken));
        },
      ),
      { numRuns: 150, seed: 7 },
    );
  });
});
