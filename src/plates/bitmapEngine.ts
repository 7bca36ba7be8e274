import type { DrawPass } from '../artwork/drawing.ts';
import type { BitmapRecipe } from '../raster/bitmap/bitmapRecipe.ts';
import { inkTone } from '../raster/bitmap/inkTone.ts';
import { readBands } from '../raster/bitmap/readBands.ts';
import { drawFlat } from './bitmapFlat.ts';
import { type Strip, toneChannels } from './strip.ts';

/**
 * Draws a pass over a bitmap film: its own pixels, never resampled. One-bit films come as packed bits of one channel,
 * everything else as tones. Throws `DamagedPixels` for pixels that cannot be decoded.
 */
export async function* drawBitmap(pass: DrawPass): AsyncIterable<Strip> {
  if (pass.job.engine !== 'bitmap') throw new TypeError('the bitmap engine was given a pass that is not a bitmap');
  if ('pixels' in pass.job) {
    const { words, heightPx } = pass.job.pixels;
    yield { top: 0, rows: heightPx, channels: [{ kind: 'bits', words }] };
    return;
  }
  const recipe = pass.job.recipe as BitmapRecipe;
  const rule = recipe.channels;
  if (rule.kind === 'flat') {
    yield* drawFlat(pass.job.bytes, recipe, rule.split, pass.keys, pass.grid);
    return;
  }
  for await (const band of readBands(pass.job.bytes, recipe)) {
    if (rule.kind === 'bits' || band.kind === 'bits') throw new TypeError('tones were asked of a one-bit film');
    const channels = pass.keys.map((key) => {
      const index = rule.channels.findIndex((channel) => channel.key === key);
      if (index < 0) throw new TypeError(`the film has no channel ${JSON.stringify(key)}`);
      return inkTone(band.planes, rule, index);
    });
    yield { top: band.top, rows: band.rows, channels: toneChannels(channels) };
  }
}
