import type { Plate } from '../plates/plate.ts';
import type { Mark, PlateMarks } from './marks.ts';
import { keepPairedBrackets, marksOfLonePlate } from './marksLone.ts';
import { lookForMark } from './marksLook.ts';
import { type ShapedMark, shapeMark } from './marksShape.ts';
import { cutMarkWindows } from './marksWindow.ts';

export { marksBoxesMm } from './marksBoxes.ts';

/** Marks of two plates this near each other are the same mark. */
const samePlaceMm = 1.5;
const sameSizeShare = 0.15;

interface MarkPlace {
  readonly first: ShapedMark;
  readonly byPlate: Map<number, ShapedMark>;
}

/**
 * Finds registration marks by their shape: cross-hairs, crosses with a ring or on a disc, and, when they come in
 * mirrored pairs, corner brackets and T-shaped ticks. Of 2.8 to 25 mm, turned by no more than 2.5 degrees.
 * With several plates a mark must stand at the same place (within 1.5 mm) on at least two, so that crosses in the art
 * of one are none; a lone plate's own count from two on, when they lie outside its art. Where some plates have a mark
 * the others are looked at: `missing` says whether one is absent or the place could not be seen.
 * Positions come from a circle fitted to the ring, else from lines fitted to the arms. Coordinates are each film's own.
 */
export function measureMarks(plates: readonly Plate[]): readonly PlateMarks[] {
  const shapes = plates.map((plate) => {
    const found: ShapedMark[] = [];
    for (const window of cutMarkWindows(plate.bits, plate.grid)) {
      const shape = shapeMark(window);
      if (shape !== null) found.push(shape);
    }
    return keepPairedBrackets(found);
  });
  if (plates.length === 1) {
    const own = marksOfLonePlate(plates[0], shapes[0]);
    const unconfirmed = shapes[0].filter((shape) => !own.includes(shape));
    return [{ plateId: plates[0].id, marks: marksOf(own), unconfirmed: marksOf(unconfirmed), missing: [] }];
  }
  const places = gatherPlaces(shapes);
  const confirmed = places.filter((place) => place.byPlate.size > 1);
  return plates.map((plate, index) => {
    const marks: Mark[] = [];
    const missing: { xMm: number; yMm: number; looked: boolean; why: string | null }[] = [];
    for (const place of confirmed) {
      const own = place.byPlate.get(index);
      if (own !== undefined) {
        marks.push(own.mark);
        continue;
      }
      const look = lookForMark(place.first, plate, samePlaceMm);
      if (look.seen === 'mark') marks.push(look.mark);
      else {
        missing.push({
          xMm: place.first.mark.xMm,
          yMm: place.first.mark.yMm,
          looked: look.seen === 'nothing',
          why: look.seen === 'cover' ? look.why : null,
        });
      }
    }
    const unconfirmed = places.filter((place) => place.byPlate.size === 1 && place.byPlate.has(index));
    return {
      plateId: plate.id,
      marks: inReadingOrder(marks),
      unconfirmed: marksOf(unconfirmed.map((place) => place.first)),
      missing: inReadingOrder(missing),
    };
  });
}

/** Marks of like kind and size at one place, the nearest of each plate. */
function gatherPlaces(shapes: readonly (readonly ShapedMark[])[]): MarkPlace[] {
  const places: MarkPlace[] = [];
  shapes.forEach((ofPlate, index) => {
    for (const shape of ofPlate) {
      let best: MarkPlace | null = null;
      let bestMm = samePlaceMm;
      for (const place of places) {
        if (place.byPlate.has(index) || !isLike(place.first.mark, shape.mark)) continue;
        const apartMm = Math.hypot(place.first.mark.xMm - shape.mark.xMm, place.first.mark.yMm - shape.mark.yMm);
        if (apartMm <= bestMm) {
          best = place;
          bestMm = apartMm;
        }
      }
      if (best === null) places.push({ first: shape, byPlate: new Map([[index, shape]]) });
      else best.byPlate.set(index, shape);
    }
  });
  return places;
}

function isLike(a: Mark, b: Mark): boolean {
  return a.kind === b.kind && Math.abs(a.sizeMm - b.sizeMm) <= sameSizeShare * Math.max(a.sizeMm, b.sizeMm);
}

function marksOf(shapes: readonly ShapedMark[]): Mark[] {
  return inReadingOrder(shapes.map((shape) => shape.mark));
}

function inReadingOrder<T extends { readonly xMm: number; readonly yMm: number }>(items: readonly T[]): T[] {
  return [...items].sort((a, b) => a.yMm - b.yMm || a.xMm - b.xMm);
}
