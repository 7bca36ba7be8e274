import type { Artwork } from '../artwork/film.ts';
import type { CheckResult, Finding, Place } from '../findings/finding.ts';
import type { BoxMm } from '../geometry/box.ts';
import { cropPlate } from '../measurements/cropPlate.ts';
import type { Plate } from '../plates/plate.ts';
import type { ToneImage } from '../raster/toneImage.ts';
import type { Crop, Pictures } from '../report/pictures.ts';

const cropsPerFinding = 3;
const mostCropPx = 480;
const smallestCropMm = 3;
const largestCropMm = 60;
/** A measured width fills about a twelfth of its crop, so that its surroundings are seen. */
const widthsPerCrop = 12;

/** Takes what the report shows of the plates while they are still there. */
export function takePictures(
  artwork: Artwork,
  plates: readonly Plate[],
  previews: ReadonlyMap<string, ToneImage>,
  checks: readonly CheckResult[],
): Pictures {
  const crops: Crop[] = [];
  for (const check of checks) {
    for (const [findingIndex, finding] of check.findings.entries()) {
      for (const [placeIndex, place] of finding.places.slice(0, cropsPerFinding).entries()) {
        const film = artwork.films.find(({ id }) => id === place.filmId);
        if (film === undefined || place.widthMm >= film.widthMm * 0.95) continue;
        const boxMm = cropBox(finding, place);
        const concerned = finding.plateIds.map((id) => plates.find((plate) => plate.id === id)!);
        const layers = (concerned.length > 0 ? concerned : plates.filter(({ filmId }) => filmId === place.filmId)).map(
          (plate) => ({
            plateId: plate.id,
            image: cropPlate(plate, boxMm, mostCropPx),
          }),
        );
        if (layers.length > 0) {
          crops.push({
            checkId: check.id,
            findingIndex,
            placeIndex,
            filmId: place.filmId,
            xMm: boxMm.xMm,
            yMm: boxMm.yMm,
            layers,
          });
        }
      }
    }
  }
  return { plates: previews, crops };
}

function cropBox(finding: Finding, place: Place): BoxMm {
  const measuredMm = finding.measured?.unit === 'mm' ? Math.abs(place.value) : 0;
  const wanted = measuredMm > 0 ? measuredMm * widthsPerCrop : Math.max(place.widthMm, place.heightMm) * 1.3;
  const sideMm = Math.min(largestCropMm, Math.max(smallestCropMm, wanted));
  const xMm = place.focusXMm ?? place.xMm + place.widthMm / 2;
  const yMm = place.focusYMm ?? place.yMm + place.heightMm / 2;
  return { xMm: xMm - sideMm / 2, yMm: yMm - sideMm / 2, widthMm: sideMm, heightMm: sideMm };
}
