import type { Place } from '../findings/finding.ts';
import { filmBlack, inkHex, lightTable, platesInPrintOrder, rgbOf } from './composite.ts';
import { meshOf } from './digest.ts';
import type { Entry, Member } from './entry.ts';
import { decimalsFor, quantity } from './format.ts';
import type { Inspection } from './inspection.ts';
import { type Span, spanOfPlace } from './measuredSpan.ts';
import { dimensionLine, placeBrackets, scaleBar, threadLines } from './overArt.ts';
import { type Picture, paintLayers, type Rgb } from './paintLayers.ts';
import type { Crop } from './pictures.ts';
import { placeKindOf, whereabouts } from './placeKinds.ts';
import type { ReportJson } from './reportJson.ts';
import { circle, type Shape, twoTone } from './shapes.ts';
import { remedyOf } from './words.ts';

/** Side of a crop as shown on paper, mm, and its drawing units (CSS pixels, 1/96 in). */
export const cropSideMm = 42;
export const unitsPerMm = 96 / 25.4;

/** Enough for twice the pixels of a common display at the size shown. */
const cropSidePx = 340;

export const mostShown = 3;

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
  /** Null of a drawing that shows no place of the film. */
  readonly placeIndex: number | null;
  /** `15×`; less than 1 when reduced. */
  readonly enlargement: string;
  readonly caption: string;
  readonly label: string;
}

/** A picture that is shown as a whole and is no place of the film. */
export function wholePicture(
  picture: Picture,
  width: number,
  height: number,
): Omit<CropPicture, 'overlay' | 'enlargement' | 'caption' | 'label'> {
  return { picture, width, height, imageX: 0, imageY: 0, imageWidth: width, imageHeight: height, placeIndex: null };
}

/** What stands below it: the number its place has on the map, then what it shows. */
export function captionOf({ placeIndex, caption }: CropPicture): string {
  return placeIndex === null ? caption : `Place ${placeIndex + 1}, ${caption}`;
}

interface Shot {
  readonly crop: Crop;
  /** The finding it was taken for, which is one of several when the entry is folded. */
  readonly member: Member;
  readonly place: Place;
  /** Index within the places of the entry. */
  readonly index: number;
}

/** The crops of an entry, at most three, in ink colours over the shirt (or the light table when it hides them). */
export function cropPicturesOf(inspection: Inspection, entry: Entry): Promise<CropPicture[]> {
  return Promise.all(shotsOf(inspection, entry).map((shot) => cropPicture(inspection.report, shot)));
}

function shotsOf({ pictures }: Inspection, entry: Entry): Shot[] {
  if (entry.isBrief) return [];
  const shots = entry.sources.flatMap(({ member, placeIndex }, index): Shot[] => {
    const crop = pictures.crops.find(
      (candidate) =>
        candidate.checkId === entry.check.id &&
        candidate.findingIndex === member.findingIndex &&
        candidate.placeIndex === placeIndex &&
        candidate.layers.length > 0,
    );
    return crop ? [{ crop, member, place: member.finding.places[placeIndex], index }] : [];
  });
  return shots.slice(0, mostShown);
}

async function cropPicture(report: ReportJson, { crop, member, place, index }: Shot): Promise<CropPicture> {
  const { check, finding } = member;
  const kind = placeKindOf(check.id, finding);
  const asFilm = remedyOf(check.id) === 'opacity';
  const isOwn = (plateId: string) => finding.plateIds.length === 0 || finding.plateIds.includes(plateId);
  const order = platesInPrintOrder(report).map((plate) => plate.id);
  const rank = (plateId: string) => order.indexOf(plateId) + (isOwn(plateId) ? order.length : 0);
  const layers = [...crop.layers]
    .sort((a, b) => rank(a.plateId) - rank(b.plateId))
    .map(({ plateId, image }) => ({
      image,
      isOwn: isOwn(plateId),
      colour: !isOwn(plateId) ? otherFilms : asFilm ? filmBlack : rgbOf(inkHex(report, inkIdOf(report, plateId))),
    }));
  const own = layers.filter((layer) => layer.isOwn);
  const isTinted = kind !== 'area' && !asFilm && own.length === 2 && isAlike(own[0].colour, own[1].colour);
  if (isTinted) own[0].colour = toldApart(own[0].colour);
  const ground = asFilm
    ? lightTable
    : groundFor(
        rgbOf(report.ticket.garmentHex),
        own.map((layer) => layer.colour),
      );
  const picture = await paintLayers({ layers, ground, sidePx: cropSidePx, inks: 'seeThrough' });
  const span = kind === 'across' ? spanOfPlace(crop, place) : null;
  const view = viewOf(picture, kind === 'edge' ? undefined : place);
  const toUnits = (xMm: number, yMm: number): [number, number] => [
    (xMm - crop.xMm) * view.scale + view.imageX,
    (yMm - crop.yMm) * view.scale + view.imageY,
  ];
  const overlay: Shape[] = [];
  const mesh = finding.plateIds.length === 1 ? meshOf(report, finding.inkNames[0]) : null;
  const showsThreads =
    mesh !== null && kind !== 'area' && finding.measured?.unit === 'mm' && view.scale / unitsPerMm >= 4;
  if (mesh !== null && showsThreads) {
    overlay.push(
      threadLines(view.width, view.height, (10 / mesh.threadsPerCm) * view.scale, mesh.threadUm * 0.001 * view.scale),
    );
  }
  overlay.push(...placeMarks(place, span, finding.measured?.plusMinus ?? 0, view, toUnits));
  overlay.push(...scaleBar(view.width, view.height, view.scale));
  const { xMm, yMm } = whereabouts(place);
  const at = `at ${xMm.toFixed(1)}, ${yMm.toFixed(1)}\u00a0mm`;
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
    placeIndex: index,
    enlargement: view.enlargement,
    caption: [
      view.enlargement,
      at,
      showsThreads ? `threads of ${Math.round(mesh!.threadsPerCm * 10) / 10}/cm` : '',
      own.length > 1 && kind !== 'area' ? 'overlap drawn darker' : '',
      isTinted ? 'one ink drawn in a tint' : '',
      own.length < layers.length ? 'the other films grey' : '',
      asFilm ? 'as film' : '',
    ]
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
  const isInView = left >= 0 && top >= 0 && right <= view.width && bottom <= view.height;
  if (!isInView) return twoTone(circle(view.width / 2, view.height / 2, 15), 1.1);
  return placeBrackets(left, top, right, bottom, view.width, view.height);
}

/** Colours this near are not told apart in a crop. */
function isAlike(one: Rgb, other: Rgb): boolean {
  return distanceOf(one, other) < 70;
}

function distanceOf(one: Rgb, other: Rgb): number {
  return Math.hypot(one[0] - other[0], one[1] - other[1], one[2] - other[2]);
}

/** The colour as a half tint, or half as dark where it is light already. */
function toldApart(colour: Rgb): Rgb {
  const towards = (colour[0] + colour[1] + colour[2]) / 3 > 160 ? 0 : 255;
  const [red, green, blue] = colour;
  return [(red + towards) / 2, (green + towards) / 2, (blue + towards) / 2];
}

/** Films a finding is not about, shown to find one’s way. */
const otherFilms: Rgb = [150, 155, 160];
const darkTable: Rgb = [52, 56, 60];

/** The shirt where every ink can be told from it, else the light table, else a darkened one. */
export function groundFor(garment: Rgb, inks: readonly Rgb[]): Rgb {
  const nearest = (ground: Rgb) => Math.min(...inks.map((ink) => distanceOf(ink, ground)));
  if (nearest(garment) >= 70) return garment;
  return nearest(lightTable) >= nearest(darkTable) ? lightTable : darkTable;
}
