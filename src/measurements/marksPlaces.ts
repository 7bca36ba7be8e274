import type { PointMm } from '../geometry/box.ts';
import type { Plate } from '../plates/plate.ts';
import { type Look, samePlaceMm } from './marksLook.ts';
import type { ShapedMark } from './marksShape.ts';
import { type Fit, fitTranslation, unfitted } from './registrationFit.ts';
import { areLikeMarks, findFarShift } from './registrationMatch.ts';

/** A place in the space of the plate with the most marks, and the plates that show a mark there. */
export interface MarkPlace extends PointMm {
  readonly first: ShapedMark;
  readonly byPlate: Map<number, ShapedMark>;
  /** What a look showed on plates whose own shapes have none here. */
  readonly looks: Map<number, Look>;
}

const noShift = fitTranslation([{ from: { xMm: 0, yMm: 0 }, to: { xMm: 0, yMm: 0 } }]);

/** For each plate the shift from the film of the plate with the most marks: none where they nearly fall together. */
export function farShifts(plates: readonly Plate[], shapes: readonly (readonly ShapedMark[])[]): Fit[] {
  let most = 0;
  for (let i = 1; i < shapes.length; i++) if (shapes[i].length > shapes[most].length) most = i;
  const marks = shapes.map((ofPlate) => ofPlate.map((shape) => shape.mark));
  return plates.map((plate, index) => {
    const sameFilm = plate.filmId === plates[most].filmId;
    return (sameFilm ? null : findFarShift(marks[most], marks[index])) ?? noShift;
  });
}

/** Marks of like kind and size at one place, the nearest of each plate. */
export function gatherPlaces(shapes: readonly (readonly ShapedMark[])[], shifts: readonly Fit[]): MarkPlace[] {
  const places: MarkPlace[] = [];
  shapes.forEach((ofPlate, index) => {
    for (const shape of ofPlate) {
      const at = unfitted(shifts[index], shape.mark);
      let best: MarkPlace | null = null;
      let bestMm = samePlaceMm;
      for (const place of places) {
        if (place.byPlate.has(index) || !areLikeMarks(place.first.mark, shape.mark)) continue;
        const apartMm = Math.hypot(place.xMm - at.xMm, place.yMm - at.yMm);
        if (apartMm <= bestMm) {
          best = place;
          bestMm = apartMm;
        }
      }
      if (best === null) places.push({ ...at, first: shape, byPlate: new Map([[index, shape]]), looks: new Map() });
      else best.byPlate.set(index, shape);
    }
  });
  return places;
}
