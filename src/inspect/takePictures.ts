import type { Film } from '../artwork/film.ts';
import type { CheckResult, Place } from '../findings/finding.ts';
import type { BoxMm, PointMm } from '../geometry/box.ts';
import { cropPlate } from '../measurements/cropPlate.ts';
import type { SeenPlate } from '../plates/plate.ts';
import type { ToneImage } from '../raster/toneImage.ts';
import type { Crop, Pictures } from '../report/pictures.ts';
import { type PlaceKind, placeKindOf, spotOf } from '../report/placeKinds.ts';
import { findSpot } from './findSpot.ts';

const cropsPerFinding = 3;
const mostCropPx = 480;
const smallestCropMm = 3;
/** A measured width fills about a twelfth of its crop, so that its surroundings are seen. */
const widthsPerCrop = 12;
const largestAcrossMm = 12;
/** An edge is shown ten times enlarged in the report's frame of 42 mm. */
const edgeCropMm = 4.2;
/** Room around a place that is shown whole, as a share of its longer side. */
const areaMargin = 0.12;
const leastAspect = 0.4;

/** Takes what the report shows of the plates while they are still there. */
export function takePictures(
  { films }: { readonly films: readonly Pick<Film, 'id' | 'widthMm'>[] },
  plates: readonly SeenPlate[],
  previews: ReadonlyMap<string, ToneImage>,
  checks: readonly CheckResult[],
): Pictures {
  const crops: Crop[] = [];
  for (const check of checks) {
    const isLack = check.id === 'missing-registration-mark';
    for (const [findingIndex, finding] of check.findings.entries()) {
      for (const [placeIndex, place] of finding.places.slice(0, cropsPerFinding).entries()) {
        const film = films.find(({ id }) => id === place.filmId);
        if (film === undefined || place.widthMm >= film.widthMm * 0.95) continue;
        const own = finding.plateIds.map((id) => plates.find((plate) => plate.id === id)!);
        const concerned = own.length > 0 ? own : plates.filter(({ filmId }) => filmId === place.filmId);
        // What is lacking is seen by the films that have it.
        const shown = isLack ? [...concerned, ...plates.filter((plate) => !concerned.includes(plate))] : concerned;
        if (own.length === 0 && !concerned.some((plate) => hasInk(plate, place))) continue;
        const boxMm = cropBox(placeKindOf(check.id, finding), place, concerned);
        const layers = shown.map((plate) => ({ plateId: plate.id, image: cropPlate(plate, boxMm, mostCropPx) }));
        crops.push({ checkId: check.id, findingIndex, placeIndex, filmId: place.filmId, ...cornerOf(boxMm), layers });
      }
    }
  }
  return { plates: previews, crops };
}

/** Whether anything is to be seen at a place: a picture that was not split into inks is on no plate. */
function hasInk(plate: SeenPlate, place: Place): boolean {
  return cropPlate(plate, place, mostCropPx).tones.some((tone) => tone > 0);
}

function cropBox(kind: PlaceKind, place: Place, plates: readonly SeenPlate[]): BoxMm {
  if (kind === 'area') return wholePlace(place);
  const wantedMm = kind === 'edge' ? edgeCropMm : Math.abs(place.value) * widthsPerCrop;
  const sideMm = Math.min(largestAcrossMm, Math.max(smallestCropMm, wantedMm));
  return squareAround(lookAt(place, sideMm, plates), sideMm);
}

/** The spot the place names; of a place larger than its window that names none, a spot on an edge within it. */
function lookAt(place: Place, sideMm: number, plates: readonly SeenPlate[]): PointMm {
  const isNamed = place.focusXMm !== undefined && place.focusYMm !== undefined;
  if (isNamed || Math.max(place.widthMm, place.heightMm) <= sideMm) return spotOf(place);
  const images = plates.map((plate) => cropPlate(plate, place, mostCropPx));
  return findSpot(images, place) ?? spotOf(place);
}

/** All of a place with room around it, no narrower than two fifths of its longer side. */
function wholePlace(place: Place): BoxMm {
  const longerMm = Math.max(place.widthMm, place.heightMm);
  const grownMm = Math.max(smallestCropMm, longerMm * (1 + 2 * areaMargin));
  const widthMm = Math.max(place.widthMm + 2 * areaMargin * longerMm, grownMm * leastAspect);
  const heightMm = Math.max(place.heightMm + 2 * areaMargin * longerMm, grownMm * leastAspect);
  const xMm = place.xMm + place.widthMm / 2 - widthMm / 2;
  const yMm = place.yMm + place.heightMm / 2 - heightMm / 2;
  return { xMm, yMm, widthMm, heightMm };
}

function squareAround({ xMm, yMm }: PointMm, sideMm: number): BoxMm {
  return { xMm: xMm - sideMm / 2, yMm: yMm - sideMm / 2, widthMm: sideMm, heightMm: sideMm };
}

function cornerOf({ xMm, yMm }: BoxMm): PointMm {
  return { xMm, yMm };
}
