import { type BoxMm, grownBox } from '../geometry/box.ts';
import { areaOfRing, collectEdgesNear, type NearEdge, type Rings } from '../geometry/rings.ts';
import type { SpotPlace } from './detail.ts';
import { type ExactArt, flatteningMm, numberToleranceMm } from './exactArt.ts';
import type { black, clear } from './exactSection.ts';

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
      if (!isAlone(art, around, own, ring, window)) {
        seenMm2 ??= areaIn(art, window, state);
        if (seenMm2 === null || Math.abs(ownMm2 - seenMm2) > sumErrorShare * ownMm2) continue;
      }
      const plusMinusMm = numberToleranceMm + (isRound ? 2 * flatteningMm : 0);
      return { equivalentDiameterMm, plusMinusMm, objectId: object.id };
    }
  }
  return null;
}

/** Whether no other edge comes near, so that the ring is all there is to see. */
function isAlone(art: ExactArt, around: readonly number[], own: Rings, ring: number, window: BoxMm): boolean {
  const xMm = window.xMm + window.widthMm / 2;
  const yMm = window.yMm + window.heightMm / 2;
  const reachMm = Math.hypot(window.widthMm, window.heightMm) / 2;
  for (const number of around) {
    const rings = art.ringsOf(art.layers[number]);
    if (rings === null) return false;
    for (const one of [rings.own, ...rings.clips]) {
      const near: NearEdge[] = [];
      collectEdgesNear(one, xMm, yMm, reachMm, near);
      if (near.some((edge) => one !== own || edge.ring !== ring)) return false;
    }
  }
  return true;
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
  const around = art.around(xMm + widthMm / 2, yMm + heightMm / 2, Math.max(widthMm, heightMm) / 2);
  const stepMm = heightMm / sections;
  let sumMm = 0;
  for (let k = 0; k < sections; k++) {
    const section = around?.sectionAlong({
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
