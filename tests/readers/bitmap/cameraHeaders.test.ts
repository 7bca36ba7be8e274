import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { drawFilm, readFilmBytes } from './drawnFilm.ts';

/** A grey picture of 40 × 20 with a black square at its top left, and its resolution and turn in the Exif block. */
function picture(format: 'jpeg' | 'webp', orientation: number): Promise<Buffer> {
  const pixels = Buffer.alloc(40 * 20, 255);
  for (let row = 0; row < 8; row++) pixels.fill(0, row * 40, row * 40 + 8);
  const image = sharp(pixels, { raw: { width: 40, height: 20, channels: 1 } })
    .toColourspace(format === 'jpeg' ? 'b-w' : 'srgb')
    .withMetadata({ orientation, density: 254 });
  return (format === 'jpeg' ? image.jpeg({ quality: 95 }) : image.webp({ lossless: true })).toBuffer();
}

describe('pictures with a camera header', () => {
  it.each(['jpeg', 'webp'] as const)('%s is turned as its header says', async (format) => {
    // Orientation 6: the first row as stored is the right-hand side as seen, so the square is at the top right.
    const [film] = await readFilmBytes(`film.${format}`, await picture(format, 6));
    const grid = film.drawing.nativeGrid!;
    expect([grid.widthPx, grid.heightPx]).toEqual([20, 40]);
    expect(film.form).toBe('separation');
    const { tones } = await drawFilm(film);
    const film1 = tones.get('film')!;
    expect(film1[2 * 20 + 17]).toBeGreaterThan(240);
    expect(film1[2 * 20 + 2]).toBeLessThan(15);
    expect(film1[37 * 20 + 17]).toBeLessThan(15);
  });

  it.each(['jpeg', 'webp'] as const)('%s has the size its header says', async (format) => {
    const [film] = await readFilmBytes(`film.${format}`, await picture(format, 1));
    expect(film.scaleKnown).toBe(true);
    expect(film.widthMm).toBeCloseTo(4, 2);
    expect(film.heightMm).toBeCloseTo(2, 2);
  });
});
