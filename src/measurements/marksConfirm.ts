import type { Plate } from '../plates/plate.ts';
import type { Mark } from './marks.ts';
import { shapesOutsideArt } from './marksLone.ts';
import { lookForMark, samePlaceMm } from './marksLook.ts';
import type { MarkPlace } from './marksPlaces.ts';
import type { ShapedMark } from './marksShape.ts';
import { type Fit, fitted } from './registrationFit.ts';

/** More shapes than this that only one plate has are a pattern of its art. */
const mostLone = 24;

/**
 * The places that hold a registration mark: those two plates show it at, by shape or, where one plate's mark is
 * overprinted, by looking there; and those of one plate's marks that are the like of others confirmed on it.
 */
export function confirmPlaces(
  plates: readonly Plate[],
  shapes: readonly (readonly ShapedMark[])[],
  shifts: readonly Fit[],
  places: readonly MarkPlace[],
): Set<MarkPlace> {
  const confirmed = new Set(places.filter((place) => place.byPlate.size > 1));
  plates.forEach((_, own) => {
    const lone = places.filter((place) => place.byPlate.size === 1 && place.byPlate.has(own));
    if (lone.length > mostLone) return;
    for (const place of lone) {
      for (const [index, plate] of plates.entries()) {
        if (index === own) continue;
        const look = lookForMark(place.first, plate, fitted(shifts[index], place), samePlaceMm);
        place.looks.set(index, look);
        if (look.seen === 'mark') confirmed.add(place);
      }
    }
  });
  plates.forEach((plate, own) => {
    const known = [...confirmed].flatMap((place) => place.byPlate.get(own) ?? []);
    const outside = shapesOutsideArt(plate, shapes[own]);
    const alike = places.filter(
      (place) =>
        !confirmed.has(place) &&
        place.byPlate.has(own) &&
        outside.includes(place.first) &&
        known.some((shape) => areSameDrawing(shape.mark, place.first.mark)),
    );
    if (alike.length > known.length) return;
    for (const place of alike) confirmed.add(place);
  });
  return confirmed;
}

/** Whether two marks of one film are one drawing used twice. */
function areSameDrawing(a: Mark, b: Mark): boolean {
  return (
    a.kind === b.kind &&
    Math.abs(a.sizeMm - b.sizeMm) <= 0.03 * a.sizeMm &&
    Math.abs(a.lineWeightMm - b.lineWeightMm) <= 0.15 * a.lineWeightMm + 0.03
  );
}
