import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { drawnChannels } from '../../src/plates/drawnChannels.ts';
import { wordsPerRowFor } from '../../src/raster/bitPlane.ts';
import { kernels } from '../../src/raster/kernels/kernelModule.ts';
import { seededRandom } from '../support/seededRandom.ts';

/** Random runs of paper, full ink and, with `soft`, tones, as a renderer leaves them; the unused byte is anything. */
function drawnRows(seed: number, widthPx: number, rows: number, colour: boolean, soft: boolean) {
  const random = seededRandom(seed);
  const step = colour ? 4 : 1;
  const stridePx = widthPx + 3;
  const pixels = new Uint8Array(stridePx * rows * step);
  let colourNow = [255, 255, 255];
  for (let at = 0; at < pixels.length; at += step) {
    if (random() < 0.1) {
      colourNow = [0, 1, 2].map(() =>
        random() < 0.5 ? 0 : soft && random() < 0.05 ? Math.floor(256 * random()) : 255,
      );
    }
    for (let k = 0; k < step; k++) pixels[at + k] = k === 3 ? Math.floor(256 * random()) : colourNow[k];
  }
  return { pixels, stridePx, widthPx, rows, colour };
}

describe('channels of drawn rows', () => {
  it('are bits where all is clear or opaque and tones where it is not', () => {
    const drawings = fc.tuple(
      fc.nat(1e6),
      fc.integer({ min: 1, max: 300 }),
      fc.integer({ min: 1, max: 140 }),
      fc.boolean(),
      fc.boolean(),
      fc.boolean(),
      fc.constantFrom(kernels(), null),
    );
    fc.assert(
      fc.property(drawings, ([seed, widthPx, rows, colour, soft, bilevel, loaded]) => {
        const drawn = drawnRows(seed, widthPx, rows, colour, soft);
        const channels = drawnChannels(drawn, colour ? 3 : 1, bilevel, loaded);
        const wordsPerRow = wordsPerRowFor(widthPx);
        for (const [index, channel] of channels.entries()) {
          let mixed = false;
          for (let row = 0; row < rows; row++) {
            for (let column = 0; column < widthPx; column++) {
              const at = (row * drawn.stridePx + column) * (colour ? 4 : 1) + (colour ? 2 - index : 0);
              const ink = 255 - drawn.pixels[at] <= 3 ? 0 : 255 - drawn.pixels[at];
              mixed ||= ink !== 0 && ink !== 255;
              const got =
                channel.kind === 'bits'
                  ? (channel.words[row * wordsPerRow + (column >> 5)] >>> (column & 31)) & 1
                  : channel.tones[row * channel.stridePx! + column];
              const wanted = channel.kind === 'bits' ? (ink >= 128 ? 1 : 0) : ink;
              if (got !== wanted) throw new Error(`channel ${index}, column ${column}, row ${row}`);
            }
          }
          expect(channel.kind).toBe((mixed || loaded === null) && !bilevel ? 'tones' : 'bits');
        }
      }),
      { numRuns: 240, seed: 51 },
    );
  });
});
