import { wordsPerRowFor } from '../raster/bitPlane.ts';
import { type Kernels, kernels } from '../raster/kernels/kernelModule.ts';
import { type DrawnRows, packByKernel } from '../raster/kernels/packByKernel.ts';
import type { ChannelRows } from './strip.ts';

/** Tones this close to clear are rounding noise of the renderer and count as clear. */
const clearLevels = 3;
/** Shorter runs of one colour are written pixel by pixel. */
const shortRun = 12;

/**
 * The channels of drawn rows, dark ink on white: packed bits where all is clear or opaque, tones where it is not.
 * @param bilevel the page is one 1-bit picture, and nothing else is wanted of it than bits
 * @param loaded null: without kernels all but bilevel pages come as tones
 */
export function drawnChannels(
  drawn: DrawnRows,
  count: number,
  bilevel: boolean,
  loaded: Kernels | null = kernels(),
): ChannelRows[] {
  const wordsPerRow = wordsPerRowFor(drawn.widthPx);
  const packed = loaded === null ? null : packByKernel(loaded, drawn, wordsPerRow);
  return Array.from({ length: count }, (_, channel): ChannelRows => {
    const bits = packed?.[channel];
    if (bits !== undefined && (bilevel || !bits.mixed)) return { kind: 'bits', words: bits.words };
    const tones = {
      kind: 'tones',
      tones: tonesOf(drawn, channel, 32 * wordsPerRow),
      stridePx: 32 * wordsPerRow,
    } as const;
    return bilevel ? { kind: 'bits', words: packTones(tones.tones, drawn.rows, wordsPerRow) } : tones;
  });
}

/** Opaque tones of a channel. Colour pixels lie as blue, green, red, unused; art is long runs of one tone. */
function tonesOf(
  { pixels, stridePx: sourceStride, widthPx, rows, colour }: DrawnRows,
  channel: number,
  stridePx: number,
) {
  const tones = new Uint8Array(stridePx * rows);
  const step = colour ? 4 : 1;
  const offset = colour ? 2 - channel : 0;
  for (let row = 0; row < rows; row++) {
    const start = row * sourceStride * step + offset;
    for (let from = 0; from < widthPx; ) {
      const value = pixels[start + from * step];
      let until = from + 1;
      while (until < widthPx && pixels[start + until * step] === value) until++;
      if (255 - value > clearLevels) fillRun(tones, 255 - value, row * stridePx + from, row * stridePx + until);
      from = until;
    }
  }
  return tones;
}

function fillRun(tones: Uint8Array, tone: number, from: number, until: number): void {
  if (until - from > shortRun) tones.fill(tone, from, until);
  else for (let at = from; at < until; at++) tones[at] = tone;
}

function packTones(tones: Uint8Array, rows: number, wordsPerRow: number): Uint32Array {
  const words = new Uint32Array(wordsPerRow * rows);
  for (let at = 0; at < tones.length; at++) if (tones[at] >= 128) words[at >> 5] |= 1 << (at & 31);
  return words;
}
