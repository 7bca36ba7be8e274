import type { Plate } from '../plates/plate.ts';
import type { Mark, PlateMarks } from './marks.ts';
import { confirmPlaces, lookAt } from './marksConfirm.ts';
import { farShifts, gatherPlaces, refinedShifts } from './marksPlaces.ts';
import { PlateShapes } from './marksPlate.ts';
import type { ShapedMark } from './marksShaped.ts';
import { fitted } from './registrationFit.ts';

export { marksBoxesMm } from './marksBoxes.ts';

/** A lone plate's marks count from this many on. */
const fewestAlone = 2;

/**
 * Finds registration marks by their shape: cross-hairs, crosses with rings or on a disc, discs cut by a white cross or
 * into quadrants, and, when they come in mirrored pairs, corner brackets and ticks. Of 2.6 to 25 mm, turned by no more
 * than 2.5 degrees, black or white in a black field, whole or cut by the film's edge.
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
  const looked = plates.map((plate) => new PlateShapes(plate));
  if (looked.length === 1) return [aloneOn(looked[0])];
  const far = farShifts(looked);
  const shifts = refinedShifts(gatherPlaces(looked, far), far);
  const places = gatherPlaces(looked, shifts);
  const confirmed = confirmPlaces(looked, shifts, places);
  return looked.map((plate, index) => {
    const marks: Mark[] = [];
    const missing: { xMm: number; yMm: number; looked: boolean; why: string | null }[] = [];
    for (const place of confirmed) {
      const own = place.byPlate.get(index);
      if (own !== undefined) {
        marks.push(withDistance(plate, own));
        continue;
      }
      const look = place.looks.get(index) ?? lookAt(plate, place, shifts, index);
      if (look.seen === 'mark') marks.push(look.mark);
      else {
        const { xMm, yMm } = fitted(shifts[index], place);
        missing.push({ xMm, yMm, looked: look.seen === 'nothing', why: look.seen === 'cover' ? look.why : null });
      }
    }
    const unconfirmed = places.filter((place) => place.byPlate.has(index) && !confirmed.has(place));
    return {
      plateId: plate.plate.id,
      marks: inReadingOrder(marks),
      unconfirmed: inReadingOrder(unconfirmed.map((place) => place.byPlate.get(index)!.mark)),
      missing: inReadingOrder(missing),
      artHullMm: plate.art.hullMm(),
    };
  });
}

function aloneOn(plate: PlateShapes): PlateMarks {
  const box = plate.art.boxMm();
  const outside = plate.shapes.filter((shape) => plate.art.isOutside(shape, box));
  const own = outside.length >= fewestAlone ? outside : [];
  const rest = plate.shapes.filter((shape) => !own.includes(shape));
  return {
    plateId: plate.plate.id,
    marks: inReadingOrder(own.map((shape) => withDistance(plate, shape))),
    unconfirmed: inReadingOrder(rest.map(({ mark }) => mark)),
    missing: [],
    artHullMm: plate.art.hullMm(),
  };
}

function withDistance(plate: PlateShapes, shape: ShapedMark): Mark {
  return { ...shape.mark, artDistanceMm: plate.art.distanceMm(shape) };
}

function inReadingOrder<T extends { readonly xMm: number; readonly yMm: number }>(items: readonly T[]): T[] {
  return [...items].sort((a, b) => a.yMm - b.yMm || a.xMm - b.xMm);
}
