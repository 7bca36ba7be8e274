import { type BoxMm, unionOfBoxes } from '../geometry/box.ts';
import type { PlateMarks } from './marks.ts';

/** Around a mark, beyond its own size: its line weight and what a lap of ink may add. */
const marginMm = 0.5;
/** Boxes this near each other are of one mark on several plates. */
const sameWithinMm = 1.5;

/** Boxes around every confirmed mark of any of the plates, to keep marks out of measurements of the art. */
export function marksBoxesMm(plates: readonly PlateMarks[]): BoxMm[] {
  const boxes: BoxMm[] = [];
  for (const plate of plates) {
    for (const mark of plate.marks) {
      // A corner or tick reaches its whole size to one side of where its strokes meet.
      const reachMm = (mark.kind === 'corner' || mark.kind === 'other' ? mark.sizeMm : mark.sizeMm / 2) + marginMm;
      const box: BoxMm = {
        xMm: mark.xMm - reachMm,
        yMm: mark.yMm - reachMm,
        widthMm: 2 * reachMm,
        heightMm: 2 * reachMm,
      };
      const known = boxes.findIndex((other) => isSamePlace(other, box));
      if (known < 0) boxes.push(box);
      else boxes[known] = unionOfBoxes(boxes[known], box);
    }
  }
  return boxes;
}

function isSamePlace(a: BoxMm, b: BoxMm): boolean {
  const dx = a.xMm + a.widthMm / 2 - b.xMm - b.widthMm / 2;
  const dy = a.yMm + a.heightMm / 2 - b.yMm - b.heightMm / 2;
  return Math.hypot(dx, dy) <= sameWithinMm;
}
