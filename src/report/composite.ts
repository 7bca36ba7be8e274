import sharp from 'sharp';
import type { Inspection } from './inspection.ts';
import type { ToneImage } from './pictures.ts';
import type { ReportJson } from './reportJson.ts';

/** A finished picture: an opaque PNG and what it covers. */
export interface Picture {
  readonly png: Buffer;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly widthMm: number;
  readonly heightMm: number;
}

export type Rgb = readonly [red: number, green: number, blue: number];

/** The light table as the ground of a film. */
export const lightTable: Rgb = [250, 250, 244];
export const filmBlack: Rgb = [20, 22, 26];
/** What is shown only to find one’s way. */
export const palePrint: Rgb = [206, 209, 206];

/** An ink over a ground: the tones of one plate, shifted by where its film lies, and the colour it takes. */
export interface InkLayer {
  readonly image: ToneImage;
  readonly colour: Rgb;
}

/**
 * The job as it will lie on the shirt: opaque inks over the garment colour in the order of the plan, lower inks first.
 * Inks the plan leaves out come last, in the order of the plates. Null when there are no plates. No side exceeds
 * `sidePx` pixels.
 */
export async function compositeOnShirt(
  report: ReportJson,
  plates: ReadonlyMap<string, ToneImage>,
  sidePx = 900,
): Promise<Picture | null> {
  const layers = platesInPrintOrder(report).flatMap((plate) => {
    const image = plates.get(plate.id);
    return image ? [{ image, colour: rgbOf(inkHex(report, plate.inkId)) }] : [];
  });
  if (layers.length === 0) return null;
  return paintLayers(layers, rgbOf(report.ticket.garmentHex), sidePx);
}

/** The composite alone as a PNG; a single pixel of the shirt when there are no plates. */
export async function compositePng({ report, pictures }: Inspection): Promise<Buffer> {
  const picture = await compositeOnShirt(report, pictures.plates, 1400);
  if (picture) return picture.png;
  const nothing = { widthPx: 1, heightPx: 1, tones: new Uint8Array(1), pitchXMm: 1, pitchYMm: 1 };
  return (await paintLayers([{ image: nothing, colour: filmBlack }], rgbOf(report.ticket.garmentHex), 1)).png;
}

/** One plate alone as a PNG, black on the light table. Throws RangeError for a plate there is no picture of. */
export async function platePng({ pictures }: Inspection, plateId: string): Promise<Buffer> {
  const image = pictures.plates.get(plateId);
  if (!image) throw new RangeError(`There is no picture of plate ${plateId}.`);
  return (await slipOfPlate(image, 1400)).png;
}

/** One plate as a film on the light table: black where it is opaque. */
export function slipOfPlate(image: ToneImage, sidePx = 300): Promise<Picture> {
  return paintLayers([{ image, colour: filmBlack }], lightTable, sidePx);
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
  const pixels = Buffer.alloc(widthPx * heightPx * 3, Buffer.from(ground));
  const inked = inks === 'seeThrough' ? new Uint8Array(widthPx * heightPx) : null;
  for (const layer of layers) paintOver(pixels, widthPx, heightPx, pitchMm, layer, inked);
  const png = await sharp(pixels, { raw: { width: widthPx, height: heightPx, channels: 3 } })
    .png({ compressionLevel: 6, adaptiveFiltering: false })
    .toBuffer();
  return { png, widthPx, heightPx, widthMm, heightMm };
}

/** Plates in the order the plan prints them; those it leaves out follow. */
export function platesInPrintOrder(report: ReportJson): ReportJson['plates'] {
  const order = report.plan.order.filter((step) => step.what === 'ink').map((step) => step.inkId);
  const rank = (inkId: string) => (order.includes(inkId) ? order.indexOf(inkId) : order.length);
  return [...report.plates].sort((a, b) => rank(a.inkId) - rank(b.inkId));
}

/** Display colour of an ink, mid grey when it has none that can be read. */
export function inkHex(report: ReportJson, inkId: string): string {
  return report.inks.find((ink) => ink.id === inkId)?.displayHex ?? '#808080';
}

/** `#rrggbb` as three bytes; mid grey for anything else. */
export function rgbOf(hex: string): Rgb {
  const match = /^#([0-9a-f]{2})([0-9a-f]{2})([0-9a-f]{2})$/i.exec(hex);
  if (!match) return [128, 128, 128];
  return [Number.parseInt(match[1], 16), Number.parseInt(match[2], 16), Number.parseInt(match[3], 16)];
}

/** `#rrggbb` and nothing else, so that it may stand in a style. */
export function safeHex(hex: string): `#${string}` {
  return /^#[0-9a-f]{6}$/i.test(hex) ? (hex.toLowerCase() as `#${string}`) : '#808080';
}

/** `inked` holds the strongest tone below each pixel when inks are seen through; null when they are opaque. */
function paintOver(
  pixels: Buffer,
  widthPx: number,
  heightPx: number,
  pitchMm: number,
  layer: InkLayer,
  inked: Uint8Array | null,
): void {
  const { image, colour } = layer;
  const columns = edges(widthPx, pitchMm, image.pitchXMm, image.widthPx);
  const rows = edges(heightPx, pitchMm, image.pitchYMm, image.heightPx);
  for (let row = 0; row < heightPx; row += 1) {
    const top = rows[row];
    const bottom = Math.max(rows[row + 1], top + 1);
    if (top >= image.heightPx) break;
    for (let column = 0; column < widthPx; column += 1) {
      const left = columns[column];
      const right = Math.max(columns[column + 1], left + 1);
      if (left >= image.widthPx) break;
      const tone = meanTone(image, left, top, right, bottom);
      if (tone === 0) continue;
      const pixel = row * widthPx + column;
      const below = inked === null ? 0 : inked[pixel] / 255;
      if (inked !== null) inked[pixel] = Math.max(inked[pixel], tone);
      if (tone === 255 && below === 0) {
        pixels[pixel * 3] = colour[0];
        pixels[pixel * 3 + 1] = colour[1];
        pixels[pixel * 3 + 2] = colour[2];
        continue;
      }
      for (let channel = 0; channel < 3; channel += 1) {
        const at = pixel * 3 + channel;
        const mixed = (colour[channel] + pixels[at]) * 0.36;
        const target = colour[channel] + (mixed - colour[channel]) * below;
        pixels[at] += Math.round(((target - pixels[at]) * tone) / 255);
      }
    }
  }
}

/** Source pixel at which each target pixel begins; one more than there are target pixels. */
function edges(countPx: number, pitchMm: number, sourcePitchMm: number, sourcePx: number): Int32Array {
  const starts = new Int32Array(countPx + 1);
  for (let index = 0; index <= countPx; index += 1) {
    starts[index] = Math.min(sourcePx, Math.round((index * pitchMm) / sourcePitchMm));
  }
  return starts;
}

function meanTone(image: ToneImage, left: number, top: number, right: number, bottom: number): number {
  const { tones, widthPx } = image;
  if (right === left + 1 && bottom === top + 1) return tones[top * widthPx + left];
  let sum = 0;
  for (let row = top; row < bottom; row += 1) {
    for (let column = left; column < right; column += 1) sum += tones[row * widthPx + column];
  }
  return Math.round(sum / ((right - left) * (bottom - top)));
}
