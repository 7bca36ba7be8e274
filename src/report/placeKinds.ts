import type { Finding, Place } from '../findings/finding.ts';
import type { PointMm } from '../geometry/box.ts';

/**
 * How a place is best looked at. `across`: a width seen in the art, enlarged until it can be measured by eye. `edge`: a
 * length along an edge, of which one spot is enlarged. `area`: all of it, as large as it is.
 */
export type PlaceKind = 'across' | 'edge' | 'area';

const measuredAcross = new Set([
  'thin-line',
  'thin-gap',
  'small-dot',
  'lost-island',
  'short-trap',
  'open-gap',
  'wide-trap',
  'underbase-peek',
]);

/** How the places of a check's finding are best looked at. */
export function placeKindOf(checkId: string, { code, measured }: Finding): PlaceKind {
  if (checkId === 'butt-joint') return 'edge';
  if (measuredAcross.has(checkId) && measured?.unit === 'mm') return code.includes('taper') ? 'edge' : 'across';
  return 'area';
}

/** The spot to look at: the one the place names, else its middle. */
export function spotOf(place: Place): PointMm {
  return {
    xMm: place.focusXMm ?? place.xMm + place.widthMm / 2,
    yMm: place.focusYMm ?? place.yMm + place.heightMm / 2,
  };
}

/** Where people are sent to find the place: the spot it names, else its top left corner. */
export function whereabouts(place: Place): PointMm {
  return { xMm: place.focusXMm ?? place.xMm, yMm: place.focusYMm ?? place.yMm };
}
