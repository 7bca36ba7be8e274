import { describe, expect, it } from 'vitest';
import { differingPixels, drawFilm, films, readFilmFile } from '../bitmap/drawnFilm.ts';
import { readNetpbm } from '../bitmap/netpbm.ts';

/** A PGM of a channel as other programs export it holds the ink itself: its 255 is full ink, not white. */
function inkOf(name: string): Uint8Array {
  return readNetpbm(`${films}expected/${name}.pgm`).tones.map((tone) => 255 - tone);
}

describe('process inks', () => {
  it.each(['cmyk.tif', 'cmyk-planes.tif', 'cmyk-planes-tiles.tif'])(
    '%s has the four inks that were drawn',
    async (name) => {
      const [film] = await readFilmFile(`${films}inks/${name}`);
      expect(film.form).toBe('composite');
      expect(film.inks.map((ink) => [ink.name, ink.kind, ink.used])).toEqual([
        ['Cyan', 'process', true],
        ['Magenta', 'process', true],
        ['Yellow', 'process', true],
        ['Black', 'process', true],
      ]);
      const { tones, rowsSeen } = await drawFilm(film);
      expect(rowsSeen.every((times) => Math.abs(times - 1) < 1e-9)).toBe(true);
      for (const [index, ink] of ['C', 'M', 'Y', 'K'].entries()) {
        expect(differingPixels(tones.get(`s${index}`)!, inkOf(`cmyk-${ink}`)), ink).toBe(0);
      }
    },
  );

  it('reads a CMYK JPEG the right way up', async () => {
    const [film] = await readFilmFile(`${films}inks/cmyk.jpg`);
    const { tones } = await drawFilm(film);
    for (const [index, ink] of ['C', 'M', 'Y', 'K'].entries()) {
      expect(differingPixels(tones.get(`s${index}`)!, inkOf(`cmyk-jpeg-${ink}`), 2), ink).toBe(0);
    }
  });
});

describe('named and unnamed inks', () => {
  it('takes names from InkNames and the resolution from centimetres', async () => {
    const [film] = await readFilmFile(`${films}inks/named.tif`);
    expect(film.inks.map((ink) => [ink.name, ink.kind])).toEqual([
      ['Lagoon', 'spot'],
      ['Coral', 'spot'],
      ['Night', 'spot'],
    ]);
    // 50 × 30 pixels at 60 to the centimetre.
    expect(film.widthMm).toBeCloseTo((50 / 60) * 10, 9);
    expect(film.heightMm).toBeCloseTo(5, 9);
    const { tones } = await drawFilm(film);
    for (const index of [0, 1, 2]) {
      expect(differingPixels(tones.get(`s${index}`)!, inkOf(`channel-${index}`)), String(index)).toBe(0);
    }
  });

  it('takes an extra channel of no stated kind for a spot ink and says so', async () => {
    const [film] = await readFilmFile(`${films}inks/cmyk-and-extra.tif`);
    expect(film.inks.map((ink) => ink.kind)).toEqual(['process', 'process', 'process', 'process', 'flat']);
    expect(film.notes).toContainEqual(expect.objectContaining({ code: 'unnamed-channel', affects: 'inks' }));
    const { tones } = await drawFilm(film);
    expect(differingPixels(tones.get('s4')!, inkOf('channel-4'))).toBe(0);
  });

  it('does not take alpha for an ink', async () => {
    const [film] = await readFilmFile(`${films}inks/cmyk-and-alpha.tif`);
    expect(film.inks).toHaveLength(4);
    expect(film.notes).toContainEqual(expect.objectContaining({ code: 'alpha-left-out' }));
  });
});
