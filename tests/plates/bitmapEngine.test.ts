import { describe, expect, it } from 'vitest';
import type { DrawPass } from '../../src/artwork/drawing.ts';
import { drawBitmap } from '../../src/plates/bitmapEngine.ts';
import { drawPass } from '../../src/plates/drawPass.ts';
import { films, readFilmFile } from '../readers/bitmap/drawnFilm.ts';

async function planOf(path: string, keys?: readonly string[]): Promise<readonly DrawPass[]> {
  const [film] = await readFilmFile(films + path);
  return film.drawing.plan(keys ?? film.inks.map((ink) => ink.key), film.drawing.nativeGrid!);
}

async function strips(pass: DrawPass) {
  const all = [];
  for await (const strip of drawBitmap(pass)) all.push(strip);
  return all;
}

describe('the bitmap engine', () => {
  it('puts every key in exactly one pass of at most three', async () => {
    const passes = await planOf('inks/spots.psd');
    expect(passes.map(({ keys }) => keys)).toEqual([
      ['s0', 's1', 's2'],
      ['s3', 's4', 's5'],
    ]);
  });

  it('draws the strips top to bottom without gaps, in the order of the keys', async () => {
    for (const pass of await planOf('inks/cmyk.tif')) {
      let next = 0;
      for (const strip of await strips(pass)) {
        expect(strip.top).toBe(next);
        expect(strip.channels.map(({ kind }) => kind)).toEqual(pass.keys.map(() => 'tones'));
        next += strip.rows;
      }
      expect(next).toBe(pass.grid.heightPx);
    }
  });

  it('gives one-bit films as packed bits', async () => {
    for (const path of ['one-bit/g4.tif', 'one-bit/grey.png', 'one-bit/bitmap.psd']) {
      const [pass] = await planOf(path);
      expect(
        (await strips(pass)).every(({ channels }) => channels[0].kind === 'bits'),
        path,
      ).toBe(true);
    }
  });

  it('hands the plate of a one-bit film over without a second decoding or a copy', async () => {
    const [pass] = await planOf('one-bit/g4.tif');
    const [plate] = await drawPass(pass);
    expect(pass.job).toHaveProperty('pixels');
    if (!('pixels' in pass.job)) return;
    expect(plate.bits).toEqual(pass.job.pixels);
    expect(plate.bits.words.buffer).toBe(pass.job.pixels.words.buffer);
  });

  it('draws the same twice, and the same from a copy of the pass', async () => {
    const [pass] = await planOf('colours/antialiased.png');
    const first = await strips(pass);
    expect(await strips(structuredClone(pass))).toEqual(first);
  });

  it('keeps the order asked for and refuses an ink that is not there', async () => {
    const [forward] = await planOf('inks/cmyk.tif', ['s0', 's2']);
    const [backward] = await planOf('inks/cmyk.tif', ['s2', 's0']);
    const [a] = await strips(forward);
    const [b] = await strips(backward);
    expect(a.channels[0]).toEqual(b.channels[1]);
    expect(a.channels[0]).not.toEqual(a.channels[1]);
    const [wrong] = await planOf('inks/cmyk.tif', ['gold']);
    await expect(strips(wrong)).rejects.toThrow('gold');
  });
});
