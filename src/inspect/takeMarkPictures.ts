import { cropPlate } from '../measurements/cropPlate.ts';
import type { PlateMarks } from '../measurements/marks.ts';
import type { SeenPlate } from '../plates/plate.ts';
import type { MarkCrop } from '../report/pictures.ts';

const mostPerPlate = 4;
const mostInAll = 32;
const mostCropPx = 480;
/** Room around a mark, as a share of its size. */
const margin = 0.12;
/** Corners and ticks reach their whole size to one side of where they are measured. */
const reachOneSided = 1;

/** The marks of every plate enlarged, up to four a plate, as they are on the film. */
export function takeMarkPictures(
  marks: readonly Pick<PlateMarks, 'plateId' | 'marks'>[],
  plates: readonly SeenPlate[],
): MarkCrop[] {
  const crops: MarkCrop[] = [];
  for (const plate of plates) {
    const own = marks.find(({ plateId }) => plateId === plate.id)?.marks ?? [];
    for (const [index, mark] of own.slice(0, mostPerPlate).entries()) {
      if (crops.length === mostInAll) return crops;
      const isOneSided = mark.kind === 'corner' || mark.kind === 'other';
      const halfMm = mark.sizeMm * (isOneSided ? reachOneSided : 0.5) * (1 + 2 * margin);
      const boxMm = { xMm: mark.xMm - halfMm, yMm: mark.yMm - halfMm, widthMm: 2 * halfMm, heightMm: 2 * halfMm };
      // The picture begins with the pixel the box begins in.
      const xMm = Math.floor(boxMm.xMm / plate.grid.pitchXMm) * plate.grid.pitchXMm;
      const yMm = Math.floor(boxMm.yMm / plate.grid.pitchYMm) * plate.grid.pitchYMm;
      crops.push({ plateId: plate.id, markIndex: index, xMm, yMm, image: cropPlate(plate, boxMm, mostCropPx) });
    }
  }
  return crops;
}
