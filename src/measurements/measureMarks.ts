import type { Plate } from '../plates/plate.ts';
import type { Mark, PlateMarks } from './marks.ts';
import { confirmPlaces } from './marksConfirm.ts';
import { keepPairedBrackets, shapesOutsideArt } from './marksLone.ts';
import { lookForMark, samePlaceMm } from './marksLook.ts';
import { farShifts, gatherPlaces } from './marksPlaces.ts';
import { type ShapedMark, shapeMark } from './marksShape.ts';
import { cutMarkWindows } from './marksWindow.ts';
import { fitted } from './registrationFit.ts';

export { marksBoxesMm } from './marksBoxes.ts';

/** A lone plate's marks count from this many on. */
const fewestAlone = 2;

/**
 * Finds registration marks by their shape: cross-hairs, crosses with a ring or on a disc, and, when they come in
 * mirrored pairs, corner brackets and T-shaped ticks. Of 2.8 to 25 mm, turned by no more than 2.5 degrees.
 *
 * With several plates a mark must stand at the same place (within 1.5 mm) on at least two, so that crosses in the art
 * of one are none; films that lie further off are first brought together by their marks, up to 20 mm. A mark only one
 * plate has counts too when it is the like of others confirmed there and lies outside the art. A lone plate's own count
 * from two on, outside its art. Where some plates have a mark the others are looked at: `missing` says whether one is
 * absent or the place could not be seen.
 * Positions come from a circle fitted to the ring, else from lines fitted to the arms. Coordinates are each film's own.
 */
export function measureMarks(plates: readonly Plate[]): readonly PlateMarks[] {
  if (plates.length === 0) return [];
  const shapes = plates.map(shapesOf);
  if (plates.length === 1) {
    const outside = shapesOutsideArt(plates[0], shapes[0]);
    const own = outside.length >= fewestAlone ? outside : [];
    const unconfirmed = shapes[0].filter((shape) => !own.includes(shape));
    return [{ plateId: plates[0].id, marks: marksOf(own), unconfirmed: marksOf(unconfirmed), missing: [] }];
  }
  const shifts = farShifts(plates, shapes);
  const places = gatherPlaces(shapes, shifts);
  const confirmed = confirmPlaces(plates, shapes, shifts, places);
  return plates.map((plate, index) => {
    const marks: Mark[] = [];
    const missing: { xMm: number; yMm: number; looked: boolean; why: string | null }[] = [];
    for (const place of confirmed) {
      const own = place.byPlate.get(index);
      if (own !== undefined) {
        marks.push(own.mark);
        continue;
      }
      const at = fitted(shifts[index], place);
      const look = place.looks.get(index) ?? lookForMark(place.first, plate, at, samePlaceMm);
      if (look.seen === 'mark') marks.push(look.mark);
      else {
        const { xMm, yMm } = at;
        missing.push({ xMm, yMm, looked: look.seen === 'nothing', why: look.seen === 'cover' ? look.why : null });
      }
    }
    const unconfirmed = places.filter((place) => place.byPlate.has(index) && !confirmed.has(place));
    return {
      plateId: plate.id,
      marks: inReadingOrder(marks),
      unconfirmed: marksOf(unconfirmed.map((place) => place.first)),
      missing: inReadingOrder(missing),
    };
  });
}

function shapesOf(plate: Plate): ShapedMark[] {
  const found: ShapedMark[] = [];
  for (const window of cutMarkWindows(plate.bits, plate.grid)) {
    const shape = shapeMark(window);
    if (shape !== null) found.push(shape);
  }
  return keepPairedBrackets(found);
}

function marksOf(shapes: readonly ShapedMark[]): Mark[] {
  return inReadingOrder(shapes.map((shape) => shape.mark));
}

function inReadingOrder<T extends { readonly xMm: number; readonly yMm: number }>(items: readonly T[]): T[] {
  return [...items].sort((a, b) => a.yMm - b.yMm || a.xMm - b.xMm);
}
