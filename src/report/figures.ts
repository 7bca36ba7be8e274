import { beatPictureOf } from './beatPicture.ts';
import { type CropPicture, cropPicturesOf, mostShown } from './cropPicture.ts';
import type { Entry } from './entry.ts';
import type { Inspection } from './inspection.ts';
import type { Picture } from './paintLayers.ts';
import { type PlacesMap, placesMapOf } from './placesMap.ts';

/** What is shown of a finding: places enlarged, and the map of all of them with the enlarged ones by number. */
export interface Figures {
  readonly crops: readonly CropPicture[];
  readonly map: PlacesMap | null;
}

/** `maps` keeps the pictures of films under the places, which findings share. */
export async function figuresOf(
  inspection: Inspection,
  entry: Entry,
  maps: Map<string, Promise<Picture>>,
): Promise<Figures> {
  const beat = await beatPictureOf(inspection.report, entry);
  const places = (await cropPicturesOf(inspection, entry)).slice(0, beat === null ? mostShown : mostShown - 1);
  const shown = places.flatMap(({ placeIndex }) => (placeIndex === null ? [] : [placeIndex]));
  const crops = beat === null ? places : [beat, ...places];
  return { crops, map: await placesMapOf(inspection, entry, shown, maps) };
}
