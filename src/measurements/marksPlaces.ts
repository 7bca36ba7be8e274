import type { PointMm } from '../geometry/box.ts';
import type { Mark } from './marks.ts';
import { type Look, samePlaceMm } from './marksLook.ts';
import type { PlateShapes } from './marksPlate.ts';
import type { ShapedMark } from './marksShaped.ts';
import { type Fit, fitSimilarity, fitTranslation, type MarkPair, unfitted } from './registrationFit.ts';
import { areLikeMarks, findFarShift } from './registrationMatch.ts';

/** A place in the space of the plate with the most marks, and the plates that show a mark there. */
export interface MarkPlace extends PointMm {
  readonly first: ShapedMark;
  /** Which plate `first` is on. */
  readonly firstPlate: number;
  readonly byPlate: Map<number, ShapedMark>;
  /** What a look showed on plates whose own shapes have none here. */
  readonly looks: Map<number, Look>;
}

const noShift = fitTranslation([{ from: { xMm: 0, yMm: 0 }, to: { xMm: 0, yMm: 0 } }]);
/** A shape that comes more often on one plate is a pattern of its art. */
const mostAlike = 8;

/** For each plate the shift from the film of the plate with the most marks: none where they nearly fall together. */
export function farShifts(plates: readonly PlateShapes[]): Fit[] {
  const marks = plates.map(({ shapes }) => withoutPatterns(shapes.map(({ mark }) => mark)));
  let most = 0;
  for (let i = 1; i < marks.length; i++) if (marks[i].length > marks[most].length) most = i;
  return plates.map(({ plate }, index) => {
    const sameFilm = plate.filmId === plates[most].plate.filmId;
    return (sameFilm ? null : findFarShift(marks[most], marks[index])) ?? noShift;
  });
}

function withoutPatterns(marks: readonly Mark[]): Mark[] {
  return marks.filter((mark) => marks.filter((other) => areLikeMarks(mark, other)).length <= mostAlike);
}

/** Marks of like kind and size at one place, the nearest of each plate. */
export function gatherPlaces(plates: readonly PlateShapes[], shifts: readonly Fit[]): MarkPlace[] {
  const places: MarkPlace[] = [];
  plates.forEach(({ shapes }, index) => {
    for (const shape of shapes) {
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
      if (best !== null) best.byPlate.set(index, shape);
      else
        places.push({ ...at, first: shape, firstPlate: index, byPlate: new Map([[index, shape]]), looks: new Map() });
    }
  });
  return places;
}

/** How each plate lies to the common space by the marks it shares with others; as it was where fewer than two tell. */
export function refinedShifts(places: readonly MarkPlace[], shifts: readonly Fit[]): Fit[] {
  return shifts.map((shift, index) => {
    const pairs: MarkPair[] = [];
    for (const place of places) {
      const own = place.byPlate.get(index);
      if (own === undefined || place.byPlate.size < 2 || place.firstPlate === index) continue;
      pairs.push({ from: place, to: own.mark });
    }
    return (pairs.length >= 2 ? fitSimilarity(pairs) : null) ?? shift;
  });
}
