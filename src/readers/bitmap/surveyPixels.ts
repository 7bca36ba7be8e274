import { bitCount } from '../../raster/bitCount.ts';
import type { Band } from '../../raster/bitmap/band.ts';
import type { BitmapRecipe, ChannelRule } from '../../raster/bitmap/bitmapRecipe.ts';
import { inkTone } from '../../raster/bitmap/inkTone.ts';
import { orientedSize, readBands } from '../../raster/bitmap/readBands.ts';
import { type BitPlane, bitAt } from '../../raster/bitPlane.ts';

/** What one look at all pixels of a film says of a channel. */
export interface ChannelSurvey {
  /** Tone-weighted share of the film that is opaque, 0 to 1. */
  readonly coverageRatio: number;
  /** Share of the outermost pixels that are opaque, 0 to 1. */
  readonly borderRatio: number;
  readonly used: boolean;
}

/** Says what lies on a one-bit film. */
export function surveyBits(plane: BitPlane): ChannelSurvey {
  const { widthPx, heightPx, wordsPerRow, words } = plane;
  const opaquePx = bitCount(words);
  let border =
    bitCount(words.subarray(0, wordsPerRow)) +
    bitCount(words.subarray((heightPx - 1) * wordsPerRow, heightPx * wordsPerRow));
  // A film of a single row has that row for both its borders once.
  if (heightPx === 1) border /= 2;
  for (let row = 0; row < heightPx; row++) border += bitAt(plane, 0, row) + bitAt(plane, widthPx - 1, row);
  return {
    coverageRatio: opaquePx / (widthPx * heightPx),
    borderRatio: border / (2 * widthPx + 2 * heightPx),
    used: opaquePx > 0,
  };
}

/** Decodes the whole film of tones once: proves that it can be decoded and says what lies on each of its channels. */
export async function surveyPixels(bytes: Uint8Array, recipe: BitmapRecipe): Promise<readonly ChannelSurvey[]> {
  const { widthPx, heightPx } = orientedSize(recipe.source, recipe.orientation);
  const rule = recipe.channels;
  if (rule.kind === 'flat') return [];
  if (rule.kind === 'bits') throw new TypeError('tones were asked of a one-bit film');
  const channels = rule.channels.length;
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
  if (rule.kind !== 'tones' || band.kind !== 'samples') throw new TypeError('tones were asked of a one-bit film');
  const tones = inkTone(band.planes, rule, channel);
  const toneAt = (row: number, column: number) => tones[row * widthPx + column] / 255;
  let total = 0;
  for (const tone of tones) total += tone;
  let border = 0;
  for (let row = 0; row < band.rows; row++) {
    border += toneAt(row, 0) + toneAt(row, widthPx - 1);
    if (band.top + row === 0 || band.top + row === heightPx - 1) {
      for (let column = 0; column < widthPx; column++) border += toneAt(row, column);
    }
  }
  return [total / 255, border, total > 0];
}
