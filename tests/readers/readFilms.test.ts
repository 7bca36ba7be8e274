import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { joinFilms } from '../../src/artwork/joinFilms.ts';
import { UnreadableFilmError } from '../../src/artwork/unreadableFilmError.ts';
import { allReaders } from '../../src/readers/allReaders.ts';
import { readFilms } from '../../src/readers/readFilms.ts';
import { films, readFilmBytes, readFilmFile } from './bitmap/drawnFilm.ts';

async function refusal(name: string, bytes: Uint8Array): Promise<UnreadableFilmError> {
  const error = await readFilmBytes(name, bytes).then(
    () => null,
    (thrown: unknown) => thrown,
  );
  expect(error).toBeInstanceOf(UnreadableFilmError);
  return error as UnreadableFilmError;
}

describe('choosing the reader', () => {
  it.each([
    ['one-bit/g4.tif', 'film.png', 'tiff'],
    ['one-bit/grey.png', 'film.tif', 'png'],
    ['colours/light-noise.jpg', 'film.pdf', 'jpeg'],
    ['colours/lossless.webp', 'film.svg', 'webp'],
    ['inks/spots.psd', 'film.tiff', 'psd'],
  ])('reads %s called %s for what it is, and says so', async (path, name, format) => {
    const [film] = await readFilmBytes(name, readFileSync(films + path));
    expect(film.format).toBe(format);
    expect(film.notes[0]).toMatchObject({ code: 'wrong-extension', affects: 'nothing' });
  });

  it('says nothing of a right name or of one that claims nothing', async () => {
    for (const name of ['a.TIFF', 'a.film', 'a']) {
      const [film] = await readFilmBytes(name, readFileSync(`${films}one-bit/g4.tif`));
      expect(film.notes.map(({ code }) => code)).not.toContain('wrong-extension');
    }
  });

  it('refuses an empty file and an unknown one with what to do', async () => {
    expect(await refusal('a.tif', new Uint8Array(0))).toMatchObject({ code: 'empty-file', fileName: 'a.tif' });
    const unknown = await refusal('notes.txt', new TextEncoder().encode('Two dozen shirts by Friday.'));
    expect(unknown.code).toBe('unknown-format');
    expect(unknown.remedy).toMatch(/TIFF.*PNG.*PSD/);
  });
});

it('does not open a file of more than 2 GB', async () => {
  const huge = {
    name: 'huge.tif',
    sizeBytes: 2_000_000_001,
    read: () => Promise.reject(new Error('the file must not be read')),
  };
  await expect(readFilms(huge, {}, allReaders())).rejects.toMatchObject({ code: 'too-large' });
});

describe('a set of films from disk', () => {
  const set = `${films}set/`;

  it('names loose films by their files', async () => {
    const loose = await Promise.all(['Lagoon', 'Coral', 'Black'].map((ink) => readFilmFile(`${set}choir_${ink}.tif`)));
    const artwork = joinFilms(loose.flat(), { jobName: 'choir', screens: [], printWhite: 'unknown' });
    expect(artwork.inks.map(({ name }) => name)).toEqual(['Lagoon', 'Coral', 'Black']);
    expect(artwork.plateSources).toHaveLength(3);
    expect(artwork.joinNotes.some(({ open }) => open)).toBe(false);
  });

  it('names pages by their page names, and asks when they have none', async () => {
    const naming = { jobName: 'choir', screens: [], printWhite: 'unknown' as const };
    const named = joinFilms(await readFilmFile(`${set}choir-named-pages.tif`), naming);
    expect(named.inks.map(({ name, nameFrom }) => [name, nameFrom])).toEqual([
      ['Lagoon', 'file'],
      ['Coral', 'file'],
      ['Night', 'file'],
    ]);
    const bare = joinFilms(await readFilmFile(`${set}choir-pages.tif`), naming);
    expect(bare.films.map(({ page, pageCount }) => [page, pageCount])).toEqual([
      [1, 3],
      [2, 3],
      [3, 3],
    ]);
    expect(bare.joinNotes.filter(({ open }) => open)).toHaveLength(3);
  });
});
