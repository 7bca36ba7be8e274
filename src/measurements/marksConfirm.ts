import type { Mark } from './marks.ts';
import { samePlaceMm, type Turned } from './marksLook.ts';
import type { MarkPlace } from './marksPlaces.ts';
import type { PlateShapes } from './marksPlate.ts';
import type { ShapedMark } from './marksShaped.ts';
import { type Fit, fitted } from './registrationFit.ts';

/** More shapes than this that only one plate has are a pattern of its art. */
const mostLone = 24;
/** Ink as near as this share of a mark's size on two facing sides makes it part of lettering or of a pattern. */
const crowdedShare = 0.9;

/**
 * The places that hold a registration mark: those two plates show it at, by shape or, where one plate's mark is
 * overprinted, by looking there; and those of one plate's marks that are the like of others confirmed on it. Bare
 * crosses, brackets and ticks amid other ink need a like of theirs that stands free.
 */
export function confirmPlaces(
  plates: readonly PlateShapes[],
  shifts: readonly Fit[],
  places: readonly MarkPlace[],
): Set<MarkPlace> {
  const confirmed = new Set<MarkPlace>();
  const doubtful: MarkPlace[] = [];
  const take = (place: MarkPlace): void => {
    const free = [...place.byPlate].some(([index, shape]) => standsFree(plates[index], shape));
    if (free) confirmed.add(place);
    else doubtful.push(place);
  };
  for (const place of places) if (place.byPlate.size > 1) take(place);
  plates.forEach((_, own) => {
    const lone = places.filter((place) => place.byPlate.size === 1 && place.byPlate.has(own));
    if (lone.length > mostLone) return;
    for (const place of lone) {
      for (const [index, plate] of plates.entries()) {
        if (index === own) continue;
        const look = lookAt(plate, place, shifts, index);
        place.looks.set(index, look);
        if (look.seen === 'mark') {
          take(place);
          break;
        }
      }
    }
  });
  for (const place of doubtful) {
    const [[index, shape]] = place.byPlate;
    const known = [...confirmed].flatMap((other) => other.byPlate.get(index) ?? []);
    if (known.some((other) => areSameDrawing(other.mark, shape.mark))) confirmed.add(place);
  }
  plates.forEach((plate, own) => {
    const known = [...confirmed].flatMap((place) => place.byPlate.get(own) ?? []);
    if (known.length === 0) return;
    const box = plate.art.boxMm();
    const alike = places.filter(
      (place) =>
        !confirmed.has(place) &&
        place.byPlate.size === 1 &&
        place.byPlate.has(own) &&
        plate.art.isOutside(place.first, box) &&
        known.some((shape) => areSameDrawing(shape.mark, place.first.mark)),
    );
    if (alike.length > known.length) return;
    for (const place of alike) confirmed.add(place);
  });
  return withoutDoubles(confirmed);
}

/** Of places within each other's marks the one with a ring, else the one most plates show, else the larger. */
function withoutDoubles(confirmed: ReadonlySet<MarkPlace>): Set<MarkPlace> {
  const rank = ({ first, byPlate }: MarkPlace) =>
    (first.ring === null ? 0 : 100) + byPlate.size + first.mark.sizeMm / 1000;
  const kept: MarkPlace[] = [];
  for (const place of [...confirmed].sort((a, b) => rank(b) - rank(a))) {
    const isPart = kept.some((other) => {
      const apartMm = Math.hypot(other.xMm - place.xMm, other.yMm - place.yMm);
      return apartMm < 0.25 * Math.max(other.first.mark.sizeMm, place.first.mark.sizeMm);
    });
    if (!isPart) kept.push(place);
  }
  return new Set([...confirmed].filter((place) => kept.includes(place)));
}

/** Looks on a plate for the mark of a place. */
export function lookAt(plate: PlateShapes, place: MarkPlace, shifts: readonly Fit[], index: number) {
  const at = fitted(shifts[index], place);
  return plate.look(place.first, at, samePlaceMm, turnedBetween(shifts[place.firstPlate], shifts[index]));
}

/** The part of the way from one plate to another that turns and stretches. */
function turnedBetween(from: Fit, to: Fit): Turned {
  const det = from.a * from.d - from.b * from.c;
  const [a, b, c, d] = [from.d / det, -from.b / det, -from.c / det, from.a / det];
  return {
    a: to.a * a + to.c * b,
    b: to.b * a + to.d * b,
    c: to.a * c + to.c * d,
    d: to.b * c + to.d * d,
  };
}

function standsFree(plate: PlateShapes, shape: ShapedMark): boolean {
  if (shape.ring !== null || shape.mark.reversed) return true;
  if (shape.lone !== null) return pointsAtArt(plate, shape);
  const { across, down } = plate.art.crowdedSides(shape, crowdedShare);
  return across < 2 && down < 2;
}

/** Whether a single stroke stands above, below or beside the art and points to it. */
function pointsAtArt(plate: PlateShapes, { mark, lone }: ShapedMark): boolean {
  const box = plate.art.boxMm();
  if (box === null) return true;
  return lone === 'upright'
    ? mark.yMm < box.topMm || mark.yMm > box.bottomMm
    : mark.xMm < box.leftMm || mark.xMm > box.rightMm;
}

/** Whether two marks of one film are one drawing used twice. */
function areSameDrawing(a: Mark, b: Mark): boolean {
  return (
    a.kind === b.kind &&
    a.reversed === b.reversed &&
    Math.abs(a.sizeMm - b.sizeMm) <= 0.03 * a.sizeMm + 0.05 &&
    Math.abs(a.lineWeightMm - b.lineWeightMm) <= 0.15 * a.lineWeightMm + 0.03
  );
}
