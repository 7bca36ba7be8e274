import type { DrawPass } from '../artwork/drawing.ts';
import type { Band } from '../raster/bitmap/band.ts';
import type { BitmapRecipe } from '../raster/bitmap/bitmapRecipe.ts';
import { inkTone } from '../raster/bitmap/inkTone.ts';
import { readBands } from '../raster/bitmap/readBands.ts';
import { wordsPerRowFor } from '../raster/bitPlane.ts';
import { drawFlat } from './bitmapFlat.ts';
import { type Strip, toneChannels } from './strip.ts';

/**
 * Draws a pass over a bitmap film: its own pixels, never resampled. One-bit films come as packed bits of one channel,
 * everything else as tones. Throws `DamagedPixels` for pixels that cannot be decoded.
 */
export async function* drawBitmap(pass: DrawPass): AsyncIterable<Strip> {
  if (pass.job.engine !== 'bitmap') throw new TypeError('the bitmap engine was given a pass that is not a bitmap');
  const recipe = pass.job.recipe as BitmapRecipe;
  const rule = recipe.channels;
  if (rule.kind === 'flat') {
    yield* drawFlat(pass.job.bytes, recipe, rule.split, pass.keys, pass.grid);
    return;
  }
  for await (const band of readBands(pass.job.bytes, recipe)) {
    if (rule.kind === 'bits') yield bitsStrip(band, pass.grid.widthPx, rule.invert);
    else if (band.kind === 'samples') {
      const channels = pass.keys.map((key) => {
        const index = rule.channels.findIndex((channel) => channel.key === key);
        if (index < 0) throw new TypeError(`the film has no channel ${JSON.stringify(key)}`);
        return inkTone(band.planes, rule, index);
      });
      yield { top: band.top, rows: band.rows, channels: toneChannels(channels) };
    } else throw new TypeError('tones were asked of a one-bit film');
  }
}

function bitsStrip(band: Band, widthPx: number, invert: boolean): Strip {
  if (band.kind !== 'bits') throw new TypeError('bits were asked of a film of tones');
  if (invert) {
    const wordsPerRow = wordsPerRowFor(widthPx);
    const full = widthPx >> 5;
    const rest = widthPx & 31;
    for (let row = 0; row < band.rows; row++) {
      const base = row * wordsPerRow;
      for (let w = 0; w < full; w++) band.words[base + w] = ~band.words[base + w];
      if (rest > 0) band.words[base + full] = ~band.words[base + full] & ((1 << rest) - 1);
    }
  }
  return { top: band.top, rows: band.rows, channels: [{ kind: 'bits', words: band.words }] };
}
