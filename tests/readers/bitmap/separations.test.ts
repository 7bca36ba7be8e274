import { readdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { differingPixels, drawFilm, films, readFilmFile } from './drawnFilm.ts';
import { readNetpbm } from './netpbm.ts';

/** Expected pixels are Ghostscript's own; the films were packed by LibTIFF and ImageMagick (fixtures/recipes/bitmap). */
const oneBit = readdirSync(`${films}one-bit`);

describe('one-bit films', () => {
  it('has films of every packing', () => expect(oneBit.length).toBeGreaterThanOrEqual(26));

  it.each(oneBit)('%s has exactly the pixels that were drawn', async (name) => {
    const expected = readNetpbm(`${films}expected/art.pbm`);
    const [film, ...others] = await readFilmFile(`${films}one-bit/${name}`);
    expect(others).toEqual([]);
    expect(film).toMatchObject({ form: 'separation', nature: 'bitmap', page: 1, pageCount: 1 });
    const grid = film.drawing.nativeGrid!;
    expect([grid.widthPx, grid.heightPx]).toEqual([expected.widthPx, expected.heightPx]);
    const { tones, rowsSeen } = await drawFilm(film);
    expect(rowsSeen.every((times) => times === 1)).toBe(true);
    expect(differingPixels(tones.get('film')!, expected.tones)).toBe(0);
    expect(film.inks[0].used).toBe(true);
  });

  it.each(oneBit.filter((name) => name !== 'bitmap.psd' && name !== 'runs.tif'))(
    '%s is as large as 301 pixels to the inch make it',
    async (name) => {
      const [film] = await readFilmFile(`${films}one-bit/${name}`);
      expect(film.scaleKnown).toBe(true);
      // PNG keeps whole pixels a metre, so its resolution is up to half a pixel a metre off.
      expect(film.widthMm).toBeCloseTo((301 / 301) * 25.4, 2);
    },
  );

  it.each([1, 2, 3, 4, 5, 6, 7, 8])('orientation %i is turned as another program turns it', async (orientation) => {
    const expected = readNetpbm(`${films}expected/orientation-${orientation}.pbm`);
    const [film] = await readFilmFile(`${films}turned/orientation-${orientation}.tif`);
    const grid = film.drawing.nativeGrid!;
    expect([grid.widthPx, grid.heightPx]).toEqual([expected.widthPx, expected.heightPx]);
    expect(film.widthMm / film.heightMm).toBeCloseTo(expected.widthPx / expected.heightPx, 6);
    const { tones } = await drawFilm(film);
    expect(differingPixels(tones.get('film')!, expected.tones)).toBe(0);
  });

  it.each([1, 2, 3, 4, 5, 6, 7, 8])('of orientation %i it is said when it mirrors', async (orientation) => {
    const [film] = await readFilmFile(`${films}turned/orientation-${orientation}.tif`);
    // TIFF 6.0, tag 274: an odd number of the two flips and the transposition is a mirror image.
    const isMirrored = [2, 4, 5, 7].includes(orientation);
    expect(film.notes.filter(({ code }) => code === 'mirrored')).toHaveLength(isMirrored ? 1 : 0);
  });
});

describe('films of tones', () => {
  const cases: readonly (readonly [string, string, number])[] = [
    ['none.tif', 'grey', 0],
    ['lzw-differences.tif', 'grey', 0],
    ['deflate-differences-big-endian.tif', 'grey', 0],
    ['packbits-tiles.tif', 'grey', 0],
    ['white-is-zero.tif', 'grey', 0],
    ['16-bit.tif', 'grey', 0],
    ['16-bit-big-endian.tif', 'grey', 0],
    ['grey.png', 'grey', 0],
    ['black-in-colours.png', 'soft', 0],
    ['16-bit.png', 'grey', 0],
    ['grey-palette.png', 'grey', 0],
    // Half of a tone is rounded by each program in its own way.
    ['half-clear.png', 'grey-half-clear', 1],
    ['grey.psd', 'grey', 0],
    ['4-bit.png', 'grey-4-bit', 0],
    ['4-bit.tif', 'grey-4-bit', 0],
    // Two JPEG decoders may round a tone differently.
    ['grey.jpg', 'grey-jpeg', 2],
  ];

  it('covers every film of tones', () =>
    expect(cases.map(([name]) => name).sort()).toEqual(readdirSync(`${films}tones`).sort()));

  it.each(cases)('%s has the tones of %s', async (name, expectedName, tolerance) => {
    const expected = readNetpbm(`${films}expected/${expectedName}.pgm`);
    const [film] = await readFilmFile(`${films}tones/${name}`);
    expect(film.form).toBe('separation');
    const { tones, rowsSeen } = await drawFilm(film);
    expect(rowsSeen.every((times) => times === 1)).toBe(true);
    expect(differingPixels(tones.get('film')!, expected.tones, tolerance)).toBe(0);
    expect(film.widthMm).toBeCloseTo(25.4, 2);
  });
});

describe('turned films of tones', () => {
  it.each([2, 3, 6, 8])('orientation %i is turned as another program turns it', async (orientation) => {
    const expected = readNetpbm(`${films}expected/grey-orientation-${orientation}.pgm`);
    const [film] = await readFilmFile(`${films}turned/grey-orientation-${orientation}.tif`);
    const grid = film.drawing.nativeGrid!;
    expect([grid.widthPx, grid.heightPx]).toEqual([expected.widthPx, expected.heightPx]);
    const { tones } = await drawFilm(film);
    expect(differingPixels(tones.get('film')!, expected.tones)).toBe(0);
  });
});

describe('polarity', () => {
  it('takes black from the file and only remarks that a film is mostly black', async () => {
    const expected = readNetpbm(`${films}expected/art.pbm`);
    const [negative] = await readFilmFile(`${films}polarity/negative.tif`);
    const { tones } = await drawFilm(negative);
    expect(
      differingPixels(
        tones.get('film')!,
        expected.tones.map((tone) => 255 - tone),
      ),
    ).toBe(0);
    expect(negative.notes).toContainEqual(expect.objectContaining({ code: 'mostly-black', affects: 'nothing' }));
    const [positive] = await readFilmFile(`${films}one-bit/g4.tif`);
    expect(positive.notes).toEqual([]);
  });
});
