import type { Inspection } from './inspection.ts';
import { type InkLayer, type Picture, paintLayers, type Rgb } from './paintLayers.ts';
import { pngOf } from './png.ts';
import type { ReportJson } from './reportJson.ts';

/** The light table as the ground of a film. */
export const lightTable: Rgb = [250, 250, 244];
export const filmBlack: Rgb = [20, 22, 26];
/** What is shown only to find one’s way. */
export const palePrint: Rgb = [206, 209, 206];

const shownSidePx = 900;
const slipSidePx = 300;
const fileSidePx = 1400;

/**
 * The job as it will lie on the shirt: opaque inks over the garment colour in the order of the plan, lower inks first.
 * Inks the plan leaves out come last, in the order of the plates. Null when there are no plates.
 */
export async function compositeOnShirt(inspection: Inspection): Promise<Picture | null> {
  const layers = shirtLayers(inspection);
  return layers.length === 0 ? null : paintShirt(inspection, layers, shownSidePx);
}

/** The composite alone as a PNG; a single pixel of the shirt when there are no plates. */
export async function compositePng(inspection: Inspection): Promise<Buffer> {
  const nothing = { widthPx: 1, heightPx: 1, tones: new Uint8Array(1), pitchXMm: 1, pitchYMm: 1 };
  const layers = shirtLayers(inspection);
  const shown = layers.length > 0 ? layers : [{ image: nothing, colour: filmBlack }];
  return pngOf((await paintShirt(inspection, shown, fileSidePx)).pixels);
}

function shirtLayers({ report, pictures }: Inspection): InkLayer[] {
  return platesInPrintOrder(report).flatMap((plate) => {
    const image = pictures.plates.get(plate.id);
    return image ? [{ image, colour: rgbOf(inkHex(report, plate.inkId)) }] : [];
  });
}

function paintShirt(inspection: Inspection, layers: readonly InkLayer[], sidePx: number): Promise<Picture> {
  const ground = rgbOf(inspection.report.ticket.garmentHex);
  return paintLayers({ layers, ground, sidePx, inks: 'opaque' });
}

/** One plate alone as a PNG, black on the light table. Throws RangeError for a plate there is no picture of. */
export async function platePng(inspection: Inspection, plateId: string): Promise<Buffer> {
  const picture = await paintFilm(inspection, plateId, fileSidePx);
  if (!picture) throw new RangeError(`There is no picture of plate ${plateId}.`);
  return pngOf(picture.pixels);
}

/** One plate as a film on the light table: black where it is opaque. Null for a plate there is no picture of. */
export function slipOfPlate(inspection: Inspection, plateId: string): Promise<Picture | null> {
  return paintFilm(inspection, plateId, slipSidePx);
}

async function paintFilm(inspection: Inspection, plateId: string, sidePx: number): Promise<Picture | null> {
  const image = inspection.pictures.plates.get(plateId);
  if (!image) return null;
  const layers = [{ image, colour: filmBlack }];
  return paintLayers({ layers, ground: lightTable, sidePx, inks: 'opaque' });
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
