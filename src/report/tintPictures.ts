import { filmBlack, lightTable } from './composite.ts';
import { type CropPicture, cropSideMm, unitsPerMm, wholePicture } from './cropPicture.ts';
import { fixed, sizeWords } from './format.ts';
import { partKey, type ShownHalftone, shownHalftones } from './halftoneFacts.ts';
import { inkNameOf } from './meetings.ts';
import { paintLayers } from './paintLayers.ts';
import type { ReportJson } from './reportJson.ts';
import { line, type Shape, twoTone } from './shapes.ts';
import { tonesOfTintMap } from './tintSquares.ts';

/** Pixels along the longer side of a picture, at least. */
const sidePx = 320;
/** Between two lines of the hatching, drawing units. */
const hatchingStep = 5;
/** Shorter strokes across corners are left out. */
const leastStroke = 0.5;

/** Where which tones of the halftoned parts lie, what the mesh does not hold hatched, by `partKey`. */
export async function tintPicturesOf(report: ReportJson): Promise<Map<string, CropPicture>> {
  const drawn = shownHalftones(report).map(async (shown) => {
    const picture = await tintPicture(report, shown);
    return picture === null ? null : ([partKey(shown.plate.id, shown.region), picture] as const);
  });
  return new Map((await Promise.all(drawn)).filter((one) => one !== null));
}

async function tintPicture(report: ReportJson, { plate, part, beats }: ShownHalftone): Promise<CropPicture | null> {
  if (part.tintMap === undefined || part.kind === 'pattern') return null;
  const squares = tonesOfTintMap(part.tintMap);
  if (squares.every((row) => row.every((tone) => tone === null))) return null;
  const [rows, columns] = [squares.length, squares[0].length];
  const side = (cropSideMm * unitsPerMm) / Math.max(rows, columns);
  const picture = await paintLayers({
    layers: [{ image: imageOf(squares, part.tintMap.pitchMm), colour: filmBlack }],
    ground: lightTable,
    sidePx: 4 * sidePx,
    inks: 'seeThrough',
  });
  const held = beats?.heldTonesPercent ?? null;
  const [width, height] = [columns * side, rows * side];
  const size = (gap?: string) => sizeWords(part.boxMm.widthMm, part.boxMm.heightMm, gap);
  const caption = `Tones over ${size()}${held === null ? '' : `, those not held hatched`}`;
  return {
    ...wholePicture(picture, width, height),
    overlay: held === null ? [] : overlayOf(squares, held, side),
    enlargement: '',
    caption,
    label: `Tint map of ${inkNameOf(report, plate.id)}, ${size(' ')}${labelOf(squares, held)}`,
  };
}

type Squares = ReturnType<typeof tonesOfTintMap>;

/** Every square some pixels wide, so that it stays a square wherever the picture is enlarged. */
function imageOf(squares: Squares, pitchMm: number) {
  const [rows, columns] = [squares.length, squares[0].length];
  const each = Math.ceil(sidePx / Math.max(rows, columns));
  const widthPx = columns * each;
  const tones = new Uint8Array(widthPx * rows * each);
  for (let y = 0; y < rows * each; y++) {
    for (let x = 0; x < widthPx; x++) {
      tones[y * widthPx + x] = Math.round(2.55 * (squares[Math.floor(y / each)][Math.floor(x / each)] ?? 0));
    }
  }
  return { widthPx, heightPx: rows * each, tones, pitchXMm: pitchMm / each, pitchYMm: pitchMm / each };
}

/** Hatching over the squares too light, rising, and over those too dark, falling. */
function overlayOf(squares: Squares, [lightest, darkest]: readonly [number, number], side: number): Shape[] {
  const light = hatched(squares, (tone) => tone < lightest, side, true);
  const dark = hatched(squares, (tone) => tone > darkest, side, false);
  return light + dark === '' ? [] : twoTone(light + dark, 0.6);
}

/** Path data of slanted lines as far as they cross squares of some tones. */
function hatched(squares: Squares, isMeant: (tone: number) => boolean, side: number, isRising: boolean): string {
  const [rows, columns] = [squares.length, squares[0].length];
  const slope = isRising ? -1 : 1;
  let d = '';
  // Each line by where it crosses the left side.
  const from = isRising ? 0 : -columns * side;
  for (let y0 = from + hatchingStep / 2; y0 < from + (columns + rows) * side; y0 += hatchingStep) {
    const sides = Array.from({ length: columns + 1 }, (_, column) => column * side);
    const levels = Array.from({ length: rows + 1 }, (_, row) => slope * (row * side - y0));
    const crossings = [...sides, ...levels].filter((x) => x >= 0 && x <= columns * side).sort((a, b) => a - b);
    let start: number | null = null;
    for (const [k, x] of crossings.entries()) {
      const middle = (x + (crossings[k + 1] ?? x)) / 2;
      const tone = squares[Math.floor((y0 + slope * middle) / side)]?.[Math.floor(middle / side)] ?? null;
      const isOn = k + 1 < crossings.length && tone !== null && isMeant(tone);
      if (isOn) start ??= x;
      if (isOn || start === null) continue;
      if (x - start >= leastStroke) d += line(start, y0 + slope * start, x, y0 + slope * x);
      start = null;
    }
  }
  return d;
}

function labelOf(squares: Squares, held: readonly [number, number] | null): string {
  const tones = squares.flat().filter((tone) => tone !== null);
  const range = `; ${Math.min(...tones)} to ${Math.max(...tones)} %`;
  if (held === null) return range;
  const share = (count: number) => fixed((100 * count) / tones.length, 0);
  const light = tones.filter((tone) => tone < held[0]).length;
  const dark = tones.filter((tone) => tone > held[1]).length;
  return `${range}; too light for the mesh ${share(light)} %, too dark ${share(dark)} % of it`;
}
