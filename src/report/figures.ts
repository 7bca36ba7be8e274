import { type CropPicture, cropPicturesOf, shownPlacesOf } from './cropPicture.ts';
import type { Entry } from './entry.ts';
import type { Inspection } from './inspection.ts';
import { type PlacesMap, placesMapOf } from './placesMap.ts';

/** What is shown of a finding: places enlarged, and the map of all of them with the enlarged ones by number. */
export function figuresOf(
  inspection: Inspection,
  entry: Entry,
): Promise<[crops: CropPicture[], map: PlacesMap | null]> {
  return Promise.all([
    cropPicturesOf(inspection, entry),
    placesMapOf(inspection, entry, shownPlacesOf(inspection, entry)),
  ]);
}
