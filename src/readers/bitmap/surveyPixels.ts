import { bitCount } from '../../raster/bitCount.ts';
import type { Band } from '../../raster/bitmap/band.ts';
import type { BitmapRecipe, ChannelRule } from '../../raster/bitmap/bitmapRecipe.ts';
import { inkTone } from '../../raster/bitmap/inkTone.ts';
import { orientedSize, readBands } from '../../raster/bitmap/readBands.ts';
import { wordsPerRowFor } from '../../raster/bitPlane.ts';

/** What one look at all pixels of a film says of a channel. */
export interface ChannelSurvey {
  /** Tone-weighted share of the film that is opaque, 0 to 1. */
  readonly coverageRatio: number;
  /** Share of the outermost pixels that are opaque, 0 to 1. */
  readonly borderRatio: number;
  readonly used: boolean;
}

/** Decodes the whole film once: proves that it can be decoded and says what lies on each of its channels. */
export async function surveyPixels(bytes: Uint8Array, recipe: BitmapRecipe): Promise<readonly ChannelSurvey[]> {
  const { widthPx, heightPx } = orientedSize(recipe.source, recipe.orientation);
  const rule = recipe.channels;
  if (rule.kind === 'flat') return [];
  const channels = rule.kind === 'bits' ? 1 : rule.channels.length;
  const sums = new Float64Array(channels);
  const borders = new Float64Array(channels);
  const used = new Array<boolean>(channels).fill(false);
  for await (const band of readBands(bytes, recipe)) {
    for (let channel = 0; channel < channels; channel++) {
      const [sum, border, any] = surveyBand(band, rule, channel, widthPx, heightPx);
      sums[channel] += sum;
      borders[channel] += border;
      used[channel] ||= any;
    }
  }
  const around = 2 * widthPx + 2 * heightPx;
  return used.map((any, channel) => ({
    coverageRatio: sums[channel] / (widthPx * heightPx),
    borderRatio: borders[channel] / around,
    used: any,
  }));
}

function surveyBand(
  band: Band,
  rule: ChannelRule,
  channel: number,
  widthPx: number,
  heightPx: number,
): readonly [number, number, boolean] {
  let sum = 0;
  let border = 0;
  let toneAt: (row: number, column: number) => number;
  let any = false;
  if (band.kind === 'bits') {
    const wordsPerRow = wordsPerRowFor(widthPx);
    const invert = rule.kind === 'bits' && rule.invert;
    const words = band.words.subarray(0, band.rows * wordsPerRow);
    sum = bitCount(words);
    if (invert) sum = widthPx * band.rows - sum;
    any = sum > 0;
    const flip = invert ? 1 : 0;
    toneAt = (row, column) => ((band.words[row * wordsPerRow + (column >> 5)] >>> (column & 31)) & 1) ^ flip;
  } else {
    if (rule.kind !== 'tones') return [0, 0, false];
    const tones = inkTone(band.planes, rule, channel);
    let total = 0;
    for (const tone of tones) total += tone;
    sum = total / 255;
    any = total > 0;
    toneAt = (row, column) => tones[row * widthPx + column] / 255;
  }
  for (let row = 0; row < band.rows; row++) {
    border += toneAt(row, 0) + toneAt(row, widthPx - 1);
    if (band.top + row === 0 || band.top + row === heightPx - 1) {
      for (let column = 0; column < widthPx; column++) border += toneAt(row, column);
    }
  }
  return [sum, border, any];
}
