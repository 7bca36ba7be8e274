import type { ToneImage } from './pictures.ts';
import { type PackedPixels, packPixels } from './png.ts';
import { type PictureGrid, reducedTones } from './reducedTones.ts';

/** A finished picture: its pixels, packed, and what it covers. */
export interface Picture {
  readonly pixels: PackedPixels;
  readonly widthMm: number;
  readonly heightMm: number;
}

export type Rgb = readonly [red: number, green: number, blue: number];

/** An ink over a ground: the tones of one plate, shifted by where its film lies, and the colour it takes. */
export interface InkLayer {
  readonly image: ToneImage;
  readonly colour: Rgb;
}

/**
 * Paints layers over a ground, lower first, all from the same top left corner. `opaque`: an ink hides what lies below.
 * `seeThrough`: where inks lie on each other both are seen, darker, so that an overlap shows.
 */
export async function paintLayers(
  layers: readonly InkLayer[],
  ground: Rgb,
  sidePx: number,
  inks: 'opaque' | 'seeThrough' = 'opaque',
): Promise<Picture> {
  const widthMm = Math.max(...layers.map(({ image }) => image.widthPx * image.pitchXMm));
  const heightMm = Math.max(...layers.map(({ image }) => image.heightPx * image.pitchYMm));
  const finestMm = Math.min(...layers.map(({ image }) => Math.min(image.pitchXMm, image.pitchYMm)));
  const pitchMm = Math.max(finestMm, Math.max(widthMm, heightMm) / sidePx);
  const widthPx = Math.max(1, Math.round(widthMm / pitchMm));
  const heightPx = Math.max(1, Math.round(heightMm / pitchMm));
  const grid: PictureGrid = { widthPx, heightPx, pitchMm };
  const words = new Uint32Array(widthPx * heightPx).fill(wordOf(ground));
  if (inks === 'opaque') {
    for (const { image, colour } of layers) coverOver(words, reducedTones(image, grid), colour);
  } else {
    const inked = new Uint8Array(words.length);
    for (const { image, colour } of layers) glazeOver(words, reducedTones(image, grid), colour, inked);
  }
  return { pixels: await packPixels(words, widthPx, heightPx), widthMm, heightMm };
}

function wordOf([red, green, blue]: Rgb): number {
  return (red << 16) | (green << 8) | blue;
}

function coverOver(words: Uint32Array, tones: Uint8Array, [red, green, blue]: Rgb): void {
  const full = wordOf([red, green, blue]);
  for (let pixel = 0; pixel < words.length; pixel += 1) {
    const tone = tones[pixel];
    if (tone === 0) continue;
    if (tone === 255) {
      words[pixel] = full;
      continue;
    }
    const under = words[pixel];
    words[pixel] =
      (towards(under >> 16, red, tone) << 16) |
      (towards((under >> 8) & 255, green, tone) << 8) |
      towards(under & 255, blue, tone);
  }
}

/** `inked` holds the strongest tone below each pixel; what lies on it is drawn darker by that share. */
function glazeOver(words: Uint32Array, tones: Uint8Array, [red, green, blue]: Rgb, inked: Uint8Array): void {
  const full = wordOf([red, green, blue]);
  for (let pixel = 0; pixel < words.length; pixel += 1) {
    const tone = tones[pixel];
    if (tone === 0) continue;
    const below = inked[pixel] / 255;
    inked[pixel] = Math.max(inked[pixel], tone);
    if (tone === 255 && below === 0) {
      words[pixel] = full;
      continue;
    }
    const under = words[pixel];
    const [underRed, underGreen, underBlue] = [under >> 16, (under >> 8) & 255, under & 255];
    words[pixel] =
      (towards(underRed, glazed(red, underRed, below), tone) << 16) |
      (towards(underGreen, glazed(green, underGreen, below), tone) << 8) |
      towards(underBlue, glazed(blue, underBlue, below), tone);
  }
}

function towards(under: number, target: number, tone: number): number {
  return under + Math.round(((target - under) * tone) / 255);
}

function glazed(colour: number, under: number, below: number): number {
  return colour + ((colour + under) * 0.36 - colour) * below;
}
