import { type Psd, writePsdUint8Array } from 'ag-psd';
import { describe, expect, it } from 'vitest';
import { drawFilm, readFilmBytes } from '../bitmap/drawnFilm.ts';

/** A red square of 20 × 20 in a picture of 40 × 30, written by another program's writer. */
function picture(more: Partial<Psd> = {}): Psd {
  const [width, height] = [40, 30];
  const data = new Uint8ClampedArray(width * height * 4).fill(255);
  for (let row = 5; row < 25; row++) {
    for (let column = 10; column < 30; column++) data.set([200, 30, 40, 255], (row * width + column) * 4);
  }
  const imageData = { width, height, data };
  return {
    width,
    height,
    imageData,
    imageResources: {
      resolutionInfo: {
        horizontalResolution: 254,
        horizontalResolutionUnit: 'PPI',
        widthUnit: 'Centimeters',
        verticalResolution: 254,
        verticalResolutionUnit: 'PPI',
        heightUnit: 'Centimeters',
      },
    },
    children: [
      { name: 'Guide lines', hidden: true, left: 0, top: 0, right: width, bottom: height, imageData },
      { name: 'Préau — été', left: 0, top: 0, right: width, bottom: height, imageData },
    ],
    ...more,
  };
}

describe('layered files', () => {
  it.each([false, true])('reads the merged picture and the size (large form: %s)', async (psb) => {
    const bytes = writePsdUint8Array(picture(), { psb });
    const [film] = await readFilmBytes(psb ? 'art.psb' : 'art.psd', bytes);
    expect(film).toMatchObject({ format: 'psd', form: 'composite', nature: 'splitBitmap', scaleKnown: true });
    expect([film.widthMm, film.heightMm]).toEqual([expect.closeTo(4, 9), expect.closeTo(3, 9)]);
    expect(film.inks.map((ink) => ink.name)).toEqual(['#c81e28']);
    const tones = (await drawFilm(film)).tones.get('#c81e28')!;
    expect(tones.reduce((sum, tone) => sum + tone, 0)).toBe(20 * 20 * 255);
    expect(tones[5 * 40 + 10]).toBe(255);
    expect(tones[4 * 40 + 10]).toBe(0);
  });

  it('names the layers that are hidden and no others', async () => {
    const [film] = await readFilmBytes('art.psd', writePsdUint8Array(picture()));
    const note = film.notes.find(({ code }) => code === 'hidden-layers')!;
    expect(note.message).toContain('1 hidden layer is');
    expect(note.message).toContain('“Guide lines”');
    expect(note.message).not.toContain('Préau');
  });
});
