import type { ToneImage } from './pictures.ts';
import { type PackedPixels, packPixels, packTones } from './png.ts';
import { reducedTones } from './reducedTones.ts';

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

/** All a picture is painted of. Plain data, so that another thread can paint it. */
export interface PaintJob {
  /** Lower first, all from the same top left corner. */
  readonly layers: readonly InkLayer[];
  readonly ground: Rgb;
  /** No side of the picture exceeds so many pixels. */
  readonly sidePx: number;
  /**
   * `opaque`: an ink hides what lies below. `seeThrough`: where inks lie on each other both are seen, darker, so that an
   * overlap shows.
   */
  readonly inks: 'opaque' | 'seeThrough';
}

/** Paints layers over a ground. */
export async function paintLayers({ layers, ground, sidePx, inks }: PaintJob): Promise<Picture> {
  const widthMm = Math.max(...layers.map(({ image }) => image.widthPx * image.pitchXMm));
  const heightMm = Math.max(...layers.map(({ image }) => image.heightPx * image.pitchYMm));
  const finestMm = Math.min(...layers.map(({ image }) => Math.min(image.pitchXMm, image.pitchYMm)));
  const pitchMm = Math.max(finestMm, Math.max(widthMm, heightMm) / sidePx);
  const widthPx = Math.max(1, Math.round(widthMm / pitchMm));
  const heightPx = Math.max(1, Math.round(heightMm / pitchMm));
  const tones = layers.map(({ image }) => reducedTones(image, { widthPx, heightPx, pitchMm }));
  if (layers.length === 1) {
    // One ink alone has a colour for each tone.
    const colours = new Uint32Array(256).fill(wordOf(ground));
    coverOver(colours, everyTone, layers[0].colour);
    return { pixels: await packTones(tones[0], colours, widthPx, heightPx), widthMm, heightMm };
  }
  const words = new Uint32Array(widthPx * heightPx).fill(wordOf(ground));
  const inked = new Uint8Array(inks === 'opaque' ? 0 : words.length);
  layers.forEach(({ colour }, index) => {
    if (inks === 'opaque') coverOver(words, tones[index], colour);
    else glazeOver(words, tones[index], colour, inked);
  });
  return { pixels: await packPixels(words, widthPx, heightPx), widthMm, heightMm };
}

const everyTone = Uint8Array.from({ length: 256 }, (_, tone) => tone);

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
