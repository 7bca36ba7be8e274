import type { ArtObject } from '../artwork/artObject.ts';
import type { Reading } from '../findings/finding.ts';
import type { BoxMm } from '../geometry/box.ts';
import { grownBox, intersectionOfBoxes } from '../geometry/box.ts';
import type { NarrowPlace } from '../measurements/detail.ts';
import { coarsePitchMm } from '../raster/pixelGrid.ts';
import type { PlateFacts } from './ask.ts';
import { narrowReading } from './narrowDetail.ts';
import { plateReading } from './subject.ts';

type Stroke = ArtObject & { readonly strokeWidthMm: { readonly min: number; readonly max: number } };

/** Lines thinner than this many pixels may leave no mark on the plate that measured it. */
const seenFromPx = 2;

/**
 * Narrow lines of a plate, each once: those measured on its pixels, with the exact width the file states where a
 * stroke of that width runs there, and strokes too thin for the pixels to show. A stroke wide enough to be seen that
 * was not measured as a line has something of the same ink beside it, and what prints is wider than the stroke.
 */
export function lineReadings(plate: PlateFacts): Reading[] {
  const strokes = strokesOf(plate);
  const met = new Set<string>();
  const measured = plate.detail.lines.map((place): Reading => {
    const stroke = place.kind === 'line' ? strokeAt(place, strokes, coarsePitchMm(plate.grid)) : null;
    if (stroke === null) return narrowReading(plate, place);
    met.add(stroke.id);
    return { ...narrowReading(plate, place), value: stroke.strokeWidthMm.min, plusMinus: 0, objectId: stroke.id };
  });
  const seenFromMm = seenFromPx * coarsePitchMm(plate.grid);
  const unseen = strokes.filter(({ id, strokeWidthMm }) => !met.has(id) && strokeWidthMm.min < seenFromMm);
  const shapes =
    unseen.length === 0
      ? []
      : plate.film.objects.filter(
          (object) => object.kind !== 'stroke' && object.hidden === null && paints(object, plate.inkKey),
        );
  return [...measured, ...unseen.flatMap((stroke) => unseenReading(plate, stroke, shapes))];
}

function strokesOf(plate: PlateFacts): Stroke[] {
  const marks = new Set(plate.film.inks.filter(({ kind }) => kind === 'registration').map(({ key }) => key));
  return plate.film.objects.filter(
    (object): object is Stroke =>
      object.strokeWidthMm !== null &&
      object.strokeWidthMm.min > 0 &&
      object.strokeWidthMm.min < plate.detail.searchedToMm &&
      object.hidden === null &&
      !object.isWhite &&
      paints(object, plate.inkKey) &&
      !object.inks.some(({ key }) => marks.has(key)),
  );
}

function paints(object: ArtObject, inkKey: string): boolean {
  return object.inks.some(({ key, tintRatio }) => key === inkKey && tintRatio > 0);
}

/** The smallest stroke of the measured width that runs through the place. */
function strokeAt(place: NarrowPlace, strokes: readonly Stroke[], pitchMm: number): Stroke | null {
  const toleranceMm = place.plusMinusMm + pitchMm;
  let found: Stroke | null = null;
  for (const stroke of strokes) {
    if (Math.abs(stroke.strokeWidthMm.min - place.minWidthMm) > toleranceMm) continue;
    if (found !== null && areaOf(found.boxMm) <= areaOf(stroke.boxMm)) continue;
    if (runsThrough(stroke, place, toleranceMm)) found = stroke;
  }
  return found;
}

function runsThrough(stroke: Stroke, { xMm, yMm }: NarrowPlace, toleranceMm: number): boolean {
  const reachMm = stroke.strokeWidthMm.max / 2 + toleranceMm;
  const box = grownBox(stroke.boxMm, reachMm);
  const inBox = xMm >= box.xMm && yMm >= box.yMm && xMm <= box.xMm + box.widthMm && yMm <= box.yMm + box.heightMm;
  if (!inBox || stroke.centreLineMm === null) return inBox;
  return stroke.centreLineMm.some((line) => distanceToLineMm(line, xMm, yMm) <= reachMm);
}

function distanceToLineMm(line: readonly number[], xMm: number, yMm: number): number {
  let leastMm = Math.hypot(xMm - line[0], yMm - line[1]);
  for (let at = 2; at + 1 < line.length; at += 2) {
    const startX = line[at - 2];
    const startY = line[at - 1];
    const alongX = line[at] - startX;
    const alongY = line[at + 1] - startY;
    const lengthSquared = alongX ** 2 + alongY ** 2;
    const share = lengthSquared === 0 ? 0 : ((xMm - startX) * alongX + (yMm - startY) * alongY) / lengthSquared;
    const t = Math.min(1, Math.max(0, share));
    leastMm = Math.min(leastMm, Math.hypot(xMm - startX - t * alongX, yMm - startY - t * alongY));
  }
  return leastMm;
}

function unseenReading(plate: PlateFacts, stroke: Stroke, shapes: readonly ArtObject[]): Reading[] {
  const filmBox = { xMm: 0, yMm: 0, widthMm: plate.film.widthMm, heightMm: plate.film.heightMm };
  const boxMm = intersectionOfBoxes(stroke.boxMm, filmBox);
  if (boxMm === null) return [];
  const reachMm = stroke.strokeWidthMm.max;
  const outlines = shapes.some(({ id, boxMm }) => id !== stroke.id && covers(grownBox(boxMm, reachMm), stroke.boxMm));
  return [
    plateReading(plate, {
      value: stroke.strokeWidthMm.min,
      unit: 'mm',
      plusMinus: 0,
      boxMm,
      objectId: stroke.id,
      ...(outlines ? { doubt: 'This thin line may be the outline of a larger shape in the same ink.' } : {}),
    }),
  ];
}

function covers(outer: BoxMm, inner: BoxMm): boolean {
  return (
    outer.xMm <= inner.xMm &&
    outer.yMm <= inner.yMm &&
    outer.xMm + outer.widthMm >= inner.xMm + inner.widthMm &&
    outer.yMm + outer.heightMm >= inner.yMm + inner.heightMm
  );
}

function areaOf(box: BoxMm): number {
  return box.widthMm * box.heightMm;
}
