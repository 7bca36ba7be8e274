import { type BoxMm, grownBox } from '../geometry/box.ts';
import { areaOfRing } from '../geometry/rings.ts';
import type { SpotPlace } from './detail.ts';
import { type ExactArt, flatteningMm } from './exactArt.ts';
import { black, type clear } from './exactSection.ts';
import { numberToleranceMm } from './exactWidth.ts';

/** The size of a dot or an island as the file states it. */
export interface ExactSpot {
  readonly equivalentDiameterMm: number;
  readonly plusMinusMm: number;
  readonly objectId: string;
}

/** Sections an area is summed up from; what that leaves open is a part in `sumErrorShare` of the area at most. */
const sections = 480;
const sumErrorShare = 0.006;

/**
 * The exact equivalent diameter of a small part found on the pixels. Null where the file does not state it as one shape
 * of its own, or does not agree with the pixels within their error bar.
 */
export function exactSpotOf(
  art: ExactArt,
  place: SpotPlace,
  state: typeof clear | typeof black,
  pitchMm: number,
): ExactSpot | null {
  const window = grownBox(place.boxMm, 1.5 * pitchMm);
  const around = art.layersIn(window);
  let seenMm2: number | null | undefined;
  for (const number of around) {
    const { object } = art.layers[number];
    const rings = art.ringsOf(art.layers[number]);
    if (rings === null || rings.clips.length > 0) continue;
    const { own, isRound } = rings;
    for (let ring = 0; ring < own.starts.length - 1; ring++) {
      if (!liesWithin(own.boxes.subarray(4 * ring, 4 * ring + 4), window)) continue;
      const ownMm2 = areaOfRing(own, ring);
      const equivalentDiameterMm = Math.sqrt((4 * ownMm2) / Math.PI);
      const missMm = Math.abs(equivalentDiameterMm - place.equivalentDiameterMm);
      if (missMm > place.plusMinusMm + pitchMm / 2) continue;
      const isAlone = state === black && around.length === 1 && own.starts.length === 2;
      if (!isAlone) {
        seenMm2 ??= areaIn(art, window, state);
        if (seenMm2 === null || Math.abs(ownMm2 - seenMm2) > sumErrorShare * ownMm2) continue;
      }
      const plusMinusMm = numberToleranceMm + (isRound ? 2 * flatteningMm : 0);
      return { equivalentDiameterMm, plusMinusMm, objectId: object.id };
    }
  }
  return null;
}

function liesWithin([left, top, right, bottom]: Float64Array, { xMm, yMm, widthMm, heightMm }: BoxMm): boolean {
  return left >= xMm && top >= yMm && right <= xMm + widthMm && bottom <= yMm + heightMm;
}

/** Area in a state within a box whose rim is in the other one all round; null when it is not, or not known. */
function areaIn(
  art: ExactArt,
  { xMm, yMm, widthMm, heightMm }: BoxMm,
  state: typeof clear | typeof black,
): number | null {
  const stepMm = heightMm / sections;
  let sumMm = 0;
  for (let k = 0; k < sections; k++) {
    const section = art.sectionAlong({
      xMm: xMm + widthMm / 2,
      yMm: yMm + (k + 0.5) * stepMm,
      dx: 1,
      dy: 0,
      reachMm: widthMm / 2,
    });
    const lengthMm = section?.lengthOf(state) ?? null;
    if (lengthMm === null || ((k === 0 || k === sections - 1) && lengthMm > 0)) return null;
    sumMm += lengthMm;
  }
  return sumMm * stepMm;
}
