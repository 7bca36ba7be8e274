import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { UnreadableFilmError } from '../../../src/artwork/unreadableFilmError.ts';
import { seededRandom } from '../../support/seededRandom.ts';
import { broken, drawFilm, films, readFilmBytes, readFilmFile } from './drawnFilm.ts';

/** What must be said of each file of fixtures/recipes/bitmap/break.py. */
const cases: Record<string, UnreadableFilmError['code']> = {
  'empty.tif': 'empty-file',
  'cut-in-strips.tif': 'truncated-file',
  'cut-in-header.tif': 'truncated-file',
  'cut-in-pixels.tif': 'truncated-file',
  'cut.png': 'truncated-file',
  'cut.jpg': 'truncated-file',
  'cut.psd': 'truncated-file',
  'cut.webp': 'truncated-file',
  'circular.tif': 'damaged-file',
  'declares-too-much.tif': 'too-large',
  'declares-too-much.png': 'too-large',
  'declares-too-much.psd': 'too-large',
  'unpacks-to-too-much.tif': 'damaged-file',
  'unpacks-to-too-much.png': 'damaged-file',
  'senseless-g4.tif': 'damaged-file',
  'senseless-g3.tif': 'damaged-file',
  'senseless-lzw.tif': 'damaged-file',
  'senseless-packbits.tif': 'truncated-file',
  'senseless-deflate.tif': 'damaged-file',
  'no-size.tif': 'damaged-file',
  'no-strips.tif': 'damaged-file',
  'strip-outside.tif': 'truncated-file',
  'end-missing.png': 'truncated-file',
  'rows-missing.png': 'truncated-file',
};

describe('broken bitmaps', () => {
  it.each(Object.entries(cases))('%s is refused as %s, in one sentence with what to do', async (name, code) => {
    const error = (await readFilmFile(broken + name).then(
      () => null,
      (thrown: unknown) => thrown,
    )) as UnreadableFilmError;
    expect(error).toBeInstanceOf(UnreadableFilmError);
    expect(error.code).toBe(code);
    expect(error.fileName).toBe(name);
    expect(error.message).toMatch(/\.$/);
    expect(error.remedy).toMatch(/^[A-Z].*\.$/);
  });

  it.each([
    'one-bit/g4.tif',
    'one-bit/g3-2d.tif',
    'one-bit/lzw-one-strip.tif',
    'one-bit/grey.png',
    'inks/named.tif',
    'tones/grey.psd',
  ])('%s with bytes changed at random is either drawn whole or refused', async (path) => {
    const good = readFileSync(films + path);
    const random = seededRandom(1927);
    const upTo = (most: number) => Math.floor(random() * (most + 1));
    for (let round = 0; round < 40; round++) {
      const bytes = new Uint8Array(good);
      const changes = 1 + upTo(4);
      for (let i = 0; i < changes; i++) bytes[upTo(bytes.length - 1)] = upTo(255);
      try {
        for (const film of await readFilmBytes('film', bytes)) {
          const { rowsSeen } = await drawFilm(film);
          if (film.inks.length > 0) expect(rowsSeen.every((times) => Math.abs(times - 1) < 1e-9)).toBe(true);
        }
      } catch (error) {
        expect(error).toBeInstanceOf(UnreadableFilmError);
      }
    }
  });

  it('lists every bitmap of its kind', () => {
    const made = readdirSync(broken).filter((name) => /\.(tif|png|jpg|psd|webp)$/.test(name));
    expect(made.sort()).toEqual(Object.keys(cases).sort());
  });
});
