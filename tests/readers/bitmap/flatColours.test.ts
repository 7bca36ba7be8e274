import { describe, expect, it } from 'vitest';
import { differingPixels, drawFilm, films, readFilmFile } from './drawnFilm.ts';

const colours = `${films}colours/`;
/** The colours of fixtures/recipes/bitmap/flat.svg. */
const inks = ['#1b2140', '#1f8a9e', '#808080', '#ef6a57'];

function names(film: { inks: readonly { name: string; used: boolean }[] }): string[] {
  return film.inks
    .filter((ink) => ink.used && ink.name !== 'White')
    .map((ink) => ink.name)
    .sort();
}

describe('pictures in flat colours', () => {
  it.each([
    'antialiased.png',
    'antialiased-second-program.png',
    'hard-edged.png',
    'see-through.png',
    'colours.tif',
    'colours.psd',
    'lossless.webp',
  ])('%s has exactly the inks of its drawing', async (name) => {
    const [film] = await readFilmFile(colours + name);
    expect(film).toMatchObject({ form: 'composite', nature: 'splitBitmap' });
    expect(names(film)).toEqual(inks);
    expect(film.inks.every((ink) => ink.kind === 'flat')).toBe(true);
  });

  it.each(['light-noise.jpg', 'palette.tif'])(
    '%s has as many inks as its drawing, of nearly their colours',
    async (name) => {
      const [film] = await readFilmFile(colours + name);
      const found = names(film);
      expect(found).toHaveLength(inks.length);
      found.forEach((hex, i) => {
        for (const at of [1, 3, 5]) {
          const component = (text: string) => Number.parseInt(text.slice(at, at + 2), 16);
          expect(Math.abs(component(hex) - component(inks[i])), hex).toBeLessThanOrEqual(4);
        }
      });
    },
  );

  it('cuts an antialiased edge where the shape covers half a pixel', async () => {
    const [film] = await readFilmFile(`${colours}antialiased.png`, { dpi: 200 });
    const { tones } = await drawFilm(film);
    const pitch = film.drawing.nativeGrid!.pitchXMm;
    const areaMm2 = (key: string) => tones.get(key)!.filter((tone) => tone === 255).length * pitch * pitch;
    // Coral is a ring of radii 8 mm and 3.4 mm, drawn over everything it meets.
    const perimeterMm = 2 * Math.PI * (8 + 3.4);
    expect(Math.abs(areaMm2('#ef6a57') - Math.PI * (8 ** 2 - 3.4 ** 2))).toBeLessThan(perimeterMm * pitch * 0.05);
    // The thick grey line is 0.6 mm wide and 360 × 32 tenths of a mm long from end to end.
    expect(areaMm2('#808080')).toBeGreaterThan(0.6 * Math.hypot(36, 3.2) * 0.97);
  });

  it('gives each pixel to one ink only and makes the antialiased plates those of the hard-edged art', async () => {
    const [soft] = await readFilmFile(`${colours}antialiased.png`, { dpi: 200 });
    const [hard] = await readFilmFile(`${colours}hard-edged.png`);
    const softTones = (await drawFilm(soft)).tones;
    const hardTones = (await drawFilm(hard)).tones;
    const pixels = softTones.get(inks[0])!.length;
    const owners = new Uint8Array(pixels);
    for (const key of inks)
      softTones.get(key)!.forEach((tone, i) => {
        if (tone > 0) owners[i]++;
      });
    expect(Math.max(...owners.subarray(0, pixels))).toBe(1);
    for (const key of inks) {
      // A renderer without antialiasing decides by the pixel's centre: a pixel here and there falls otherwise.
      expect(differingPixels(softTones.get(key)!, hardTones.get(key)!) / pixels, key).toBeLessThan(0.004);
    }
  });

  it('offers white only where ink encloses it, and draws no other white', async () => {
    const [film] = await readFilmFile(`${colours}antialiased.png`, { dpi: 200 });
    expect(film.inks).toContainEqual(
      expect.objectContaining({ key: 'white', name: 'White', displayHex: '#ffffff', kind: 'flat', used: true }),
    );
    const { tones } = await drawFilm(film);
    const pitch = film.drawing.nativeGrid!.pitchXMm;
    const whiteMm2 = tones.get('white')!.filter((tone) => tone === 255).length * pitch * pitch;
    expect(Math.abs(whiteMm2 - Math.PI * 3.4 ** 2)).toBeLessThan(2 * Math.PI * 3.4 * pitch * 0.2);
  });

  it('finds an ink of lines one pixel wide', async () => {
    const [film] = await readFilmFile(`${colours}hairlines.png`);
    expect(names(film)).toEqual(['#1b2140', '#1f8a9e', '#ef6a57']);
    const { tones } = await drawFilm(film);
    // The straight line runs from column 10 to 290 in row 10; another runs below it.
    const row = tones.get('#1b2140')!.subarray(10 * 300, 11 * 300);
    expect(row.filter((tone) => tone === 255)).toHaveLength(281);
  });

  it.each(['two-colours.png', 'two-colours.tif'])('%s has one ink at one bit a pixel', async (name) => {
    const [film] = await readFilmFile(colours + name);
    expect(names(film)).toEqual(['#ef6a57']);
    const { tones } = await drawFilm(film);
    // A rectangle from 10,10 to 40,30, both ends included.
    expect(tones.get('#ef6a57')!.filter((tone) => tone === 255)).toHaveLength(31 * 21);
  });

  it.each(['clouds.png', 'clouds.jpg', 'shade.png'])('%s is a photograph, not split', async (name) => {
    const [film] = await readFilmFile(colours + name);
    expect(film.nature).toBe('photograph');
    expect(film.inks).toEqual([]);
    expect(film.notes).toContainEqual(expect.objectContaining({ code: 'photograph-not-split', affects: 'inks' }));
  });
});
