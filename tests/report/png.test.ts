import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { type PackedPixels, packPixels, packTones, pngOf } from '../../src/report/png.ts';

/** What libvips, which has nothing of this writer, reads of the PNG: three bytes a pixel. */
async function readBack(packing: Promise<PackedPixels>) {
  const packed = await packing;
  const png = pngOf(packed);
  const { isPalette } = await sharp(png).metadata();
  const { data, info } = await sharp(png, { failOn: 'warning' }).raw().toBuffer({ resolveWithObject: true });
  return { packed, isPalette: isPalette === true, bytes: [...data], size: [info.width, info.height, info.channels] };
}

const bytesOf = (words: Uint32Array) => [...words].flatMap((word) => [word >> 16, (word >> 8) & 255, word & 255]);

describe('a packed picture', () => {
  it('comes back pixel by pixel, by palette up to 256 colours and by channels beyond', async () => {
    for (const colours of [1, 2, 255, 256, 257, 900]) {
      // Colours that differ in every byte, on rows of an odd length.
      const words = Uint32Array.from({ length: 31 * 31 }, (_, index) => ((index % colours) * 0x10409) & 0xffffff);
      const { packed, isPalette, bytes, size } = await readBack(packPixels(words, 31, 31));
      expect(bytes, `${colours} colours`).toEqual(bytesOf(words));
      expect(size).toEqual([31, 31, 3]);
      expect(isPalette, `${colours} colours`).toBe(colours <= 256);
      expect(packed.palette?.length ?? null).toBe(colours <= 256 ? colours * 3 : null);
    }
  });

  it('may be a single pixel, and white', async () => {
    expect((await readBack(packPixels(Uint32Array.of(0xffffff), 1, 1))).bytes).toEqual([255, 255, 255]);
  });

  it('of one ink has the colour of each tone, and no colour it does not use', async () => {
    const colours = Uint32Array.from({ length: 256 }, (_, tone) => (tone * 0x10203) & 0xffffff);
    const tones = Uint8Array.from({ length: 7 * 5 }, (_, index) => [255, 0, 17, 200][index % 4]);
    const { packed, bytes, isPalette } = await readBack(packTones(tones, colours, 7, 5));
    expect(bytes).toEqual(bytesOf(Uint32Array.from(tones, (tone) => colours[tone])));
    expect(isPalette).toBe(true);
    expect(packed.palette).toHaveLength(4 * 3);
  });

  it('of many pixels is packed the same as one of few', async () => {
    const words = Uint32Array.from({ length: 640 * 480 }, (_, index) => (index * 7919) & 0xffffff);
    expect((await readBack(packPixels(words, 640, 480))).bytes).toEqual(bytesOf(words));
  });
});
