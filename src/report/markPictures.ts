import { filmBlack, lightTable } from './composite.ts';
import { type CropPicture, unitsPerMm, wholePicture } from './cropPicture.ts';
import { fixed, thinSpace } from './format.ts';
import type { Inspection } from './inspection.ts';
import { inkNameOf } from './meetings.ts';
import { scaleBar } from './overArt.ts';
import { paintLayers } from './paintLayers.ts';
import type { MarkCrop } from './pictures.ts';
import type { ReportJson } from './reportJson.ts';
import { circle, line, type Shape } from './shapes.ts';

/** Side of an enlarged mark as shown, mm. */
export const markSideMm = 30;
const picturePx = 480;
const centreHex = '#d02f7c';

/** The marks of each plate as film, black on the light table, with the fitted centre drawn in; by plate id. */
export async function markPicturesOf({ report, pictures }: Inspection): Promise<Map<string, CropPicture[]>> {
  const byPlate = new Map<string, CropPicture[]>();
  for (const crop of pictures.marks ?? []) {
    const shown = byPlate.get(crop.plateId) ?? [];
    shown.push(await markPicture(report, crop));
    byPlate.set(crop.plateId, shown);
  }
  return byPlate;
}

async function markPicture(report: ReportJson, crop: MarkCrop): Promise<CropPicture> {
  const mark = report.plates.find(({ id }) => id === crop.plateId)!.marks[crop.markIndex];
  const layers = [{ image: crop.image, colour: filmBlack }];
  const picture = await paintLayers({ layers, ground: lightTable, sidePx: picturePx, inks: 'seeThrough' });
  const sideMm = Math.max(picture.widthMm, picture.heightMm);
  const scale = (markSideMm * unitsPerMm) / sideMm;
  const [width, height] = [picture.widthMm * scale, picture.heightMm * scale];
  const [x, y] = [(mark.xMm - crop.xMm) * scale, (mark.yMm - crop.yMm) * scale];
  const times = `${Math.round((10 * markSideMm) / sideMm) / 10}×`;
  const at = `${fixed(mark.xMm, 2)}, ${fixed(mark.yMm, 2)}${thinSpace}mm`;
  return {
    ...wholePicture(picture, width, height),
    overlay: [...centreLines(x, y, width, height, mark.plusMinusMm * scale), ...scaleBar(width, height, scale)],
    enlargement: times,
    caption: `${mark.kind}, ${times}, at ${at} ± ${fixed(mark.plusMinusMm, 3)}${thinSpace}mm${mark.reversed ? ', white on black' : ''}${mark.cut ? ', cut by the edge' : ''}`,
    label: `Mark of ${inkNameOf(report, crop.plateId)} at ${at} with its measured centre`,
  };
}

/** Hairlines through the centre that leave its middle free, and the error bar as a circle where it is wide enough to see. */
function centreLines(x: number, y: number, width: number, height: number, bar: number): Shape[] {
  const free = 3;
  const d =
    line(0, y, x - free, y) + line(x + free, y, width, y) + line(x, 0, x, y - free) + line(x, y + free, x, height);
  const dot = line(x - 1, y, x + 1, y) + line(x, y - 1, x, y + 1);
  const shapes: Shape[] = [
    { kind: 'path', d, fill: 'none', stroke: '#ffffff', strokeWidth: 1.6, opacity: 0.7 },
    { kind: 'path', d: d + dot, fill: 'none', stroke: centreHex, strokeWidth: 0.7 },
  ];
  if (bar >= 0.8)
    shapes.push({ kind: 'path', d: circle(x, y, bar), fill: 'none', stroke: centreHex, strokeWidth: 0.6 });
  return shapes;
}
