import type { Place } from '../findings/finding.ts';
import { inkHex, lightTable, type Picture, paintLayers, platesInPrintOrder, type Rgb, rgbOf } from './composite.ts';
import { type Entry, meshOf } from './digest.ts';
import { decimalsFor, quantity } from './format.ts';
import { type Span, spanOfPlace } from './measuredSpan.ts';
import { dimensionLine, placeBrackets, scaleBar, threadLines } from './overArt.ts';
import { pictureOnce } from './pictureMemo.ts';
import type { Crop, Pictures } from './pictures.ts';
import type { ReportJson } from './reportJson.ts';
import type { Shape } from './shapes.ts';

/** Side of a crop as shown on paper, mm, and its drawing units (CSS pixels, 1/96 in). */
export const cropSideMm = 42;
export const unitsPerMm = 96 / 25.4;

/** Enough for twice the pixels of a common display at the size shown. */
const cropSidePx = 340;

/** An enlarged place, ready to be set: a picture, the part of it to show, and the marks over it. */
export interface CropPicture {
  readonly picture: Picture;
  /** Size as shown and, in the same drawing units, where the whole picture lies under that window. */
  readonly width: number;
  readonly height: number;
  readonly imageX: number;
  readonly imageY: number;
  readonly imageWidth: number;
  readonly imageHeight: number;
  readonly overlay: readonly Shape[];
  readonly placeIndex: number;
  /** `15×`; less than 1 when reduced. */
  readonly enlargement: string;
  readonly caption: string;
  readonly label: string;
}

/** The crops of a finding, at most three, in ink colours over the shirt (or the light table when it hides them). */
export async function cropPicturesOf(report: ReportJson, pictures: Pictures, entry: Entry): Promise<CropPicture[]> {
  const { check, finding, findingIndex, isBrief } = entry;
  if (!finding || isBrief) return [];
  const crops = pictures.crops
    .filter((crop) => crop.checkId === check.id && crop.findingIndex === findingIndex && crop.layers.length > 0)
    .sort((a, b) => a.placeIndex - b.placeIndex)
    .slice(0, 3);
  return Promise.all(
    crops.map((crop) =>
      pictureOnce({ report, pictures }, `crop ${entry.anchor} ${crop.placeIndex}`, () =>
        cropPicture(report, entry, crop),
      ),
    ),
  );
}

async function cropPicture(report: ReportJson, entry: Entry, crop: Crop): Promise<CropPicture> {
  const finding = entry.finding!;
  const place = finding.places[crop.placeIndex] as Place | undefined;
  const order = platesInPrintOrder(report).map((plate) => plate.id);
  const colourOf = (plateId: string) => rgbOf(inkHex(report, inkIdOf(report, plateId)));
  const layers = [...crop.layers]
    .sort((a, b) => order.indexOf(a.plateId) - order.indexOf(b.plateId))
    .map((layer) => ({ image: layer.image, colour: colourOf(layer.plateId) }));
  const ground = groundFor(
    rgbOf(report.ticket.garmentHex),
    layers.map((layer) => layer.colour),
  );
  const picture = await paintLayers(layers, ground, cropSidePx, 'seeThrough');
  const view = viewOf(picture, place);
  const toUnits = (xMm: number, yMm: number): [number, number] => [
    (xMm - crop.xMm) * view.scale + view.imageX,
    (yMm - crop.yMm) * view.scale + view.imageY,
  ];
  const overlay: Shape[] = [];
  const mesh = finding.plateIds.length === 1 ? meshOf(report, finding.inkNames[0]) : null;
  const showsThreads = mesh !== null && finding.measured?.unit === 'mm' && view.scale / unitsPerMm >= 4;
  if (mesh !== null && showsThreads) {
    overlay.push(
      threadLines(view.width, view.height, (10 / mesh.threadsPerCm) * view.scale, mesh.threadUm * 0.001 * view.scale),
    );
  }
  if (place) {
    const span = isMeasuredAcross(entry) ? spanOfPlace(crop, place) : null;
    overlay.push(...placeMarks(place, span, finding.measured?.plusMinus ?? 0, view, toUnits));
  }
  overlay.push(...scaleBar(view.width, view.height, view.scale));
  const at = place ? `at ${place.xMm.toFixed(1)}, ${place.yMm.toFixed(1)}\u00a0mm` : '';
  const threads = showsThreads ? `threads of ${Math.round(mesh!.threadsPerCm * 10) / 10}/cm` : '';
  const inks = finding.inkNames.join(' and ');
  return {
    picture,
    width: view.width,
    height: view.height,
    imageX: view.imageX,
    imageY: view.imageY,
    imageWidth: picture.widthMm * view.scale,
    imageHeight: picture.heightMm * view.scale,
    overlay,
    placeIndex: crop.placeIndex,
    enlargement: view.enlargement,
    caption: [view.enlargement, at, threads, layers.length > 1 ? 'overlap drawn darker' : '']
      .filter((part) => part !== '')
      .join(', '),
    label: `${inks === '' ? 'The films' : inks} enlarged ${view.enlargement} ${at}`.trim(),
  };
}

function inkIdOf(report: ReportJson, plateId: string): string {
  return report.plates.find((plate) => plate.id === plateId)?.inkId ?? '';
}

interface View {
  readonly width: number;
  readonly height: number;
  readonly imageX: number;
  readonly imageY: number;
  /** Drawing units a millimetre of film. */
  readonly scale: number;
  readonly enlargement: string;
}

const niceEnlargements = [1, 1.5, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50];

/** A round enlargement that fills the frame and trims the crop about its middle, as long as the place stays in view. */
function viewOf(picture: Picture, place: Place | undefined): View {
  const exact = cropSideMm / Math.max(picture.widthMm, picture.heightMm);
  const nice = niceEnlargements.find((candidate) => candidate >= exact - 1e-9) ?? exact;
  const shownMm = cropSideMm / nice;
  const fits = !place || Math.max(place.widthMm, place.heightMm) < shownMm * 0.9 || place.widthMm > picture.widthMm;
  const times = fits && exact >= 1 ? nice : exact;
  const scale = times * unitsPerMm;
  const width = Math.min(cropSideMm * unitsPerMm, picture.widthMm * scale);
  const height = Math.min(cropSideMm * unitsPerMm, picture.heightMm * scale);
  return {
    width,
    height,
    imageX: (width - picture.widthMm * scale) / 2,
    imageY: (height - picture.heightMm * scale) / 2,
    scale,
    enlargement: `${trimmed(times)}×`,
  };
}

function trimmed(value: number): string {
  return String(Math.round(value * 10) / 10);
}

const measuredAcross = new Set([
  'thin-line',
  'thin-gap',
  'small-dot',
  'lost-island',
  'short-trap',
  'open-gap',
  'wide-trap',
  'underbase-peek',
]);

/** Whether the value of a place is a width seen in the art, not a length along it, a share or a count. */
function isMeasuredAcross({ check, finding }: Entry): boolean {
  return measuredAcross.has(check.id) && finding?.measured?.unit === 'mm' && !finding.code.includes('taper');
}

function placeMarks(
  place: Place,
  span: Span | null,
  plusMinus: number,
  view: View,
  toUnits: (xMm: number, yMm: number) => [number, number],
): Shape[] {
  if (span) {
    const text = quantity(place.value, 'mm', decimalsFor('mm', [place.value], plusMinus));
    return dimensionLine(toUnits(span.x1Mm, span.y1Mm), toUnits(span.x2Mm, span.y2Mm), text, view.width, view.height);
  }
  const [left, top] = toUnits(place.xMm, place.yMm);
  const [right, bottom] = toUnits(place.xMm + place.widthMm, place.yMm + place.heightMm);
  return placeBrackets(left, top, right, bottom, view.width, view.height);
}

const darkTable: Rgb = [52, 56, 60];

/** The shirt where every ink can be told from it, else the light table, else a darkened one. */
function groundFor(garment: Rgb, inks: readonly Rgb[]): Rgb {
  const nearest = (ground: Rgb) =>
    Math.min(...inks.map((ink) => Math.hypot(ink[0] - ground[0], ink[1] - ground[1], ink[2] - ground[2])));
  if (nearest(garment) >= 70) return garment;
  return nearest(lightTable) >= nearest(darkTable) ? lightTable : darkTable;
}
