import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { packPixels, pngOf } from '../../src/report/png.ts';

/** What libvips, which has nothing of this writer, reads of the PNG: three bytes a pixel. */
async function readBack(words: Uint32Array, widthPx: number, heightPx: number) {
  const packed = await packPixels(words, widthPx, heightPx);
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
      const { packed, isPalette, bytes, size } = await readBack(words, 31, 31);
      expect(bytes, `${colours} colours`).toEqual(bytesOf(words));
      expect(size).toEqual([31, 31, 3]);
      expect(isPalette, `${colours} colours`).toBe(colours <= 256);
      expect(packed.palette?.length ?? null).toBe(colours <= 256 ? colours * 3 : null);
    }
  });

  it('may be a single pixel, and white', async () => {
    expect((await readBack(Uint32Array.of(0xffffff), 1, 1)).bytes).toEqual([255, 255, 255]);
  });
});
