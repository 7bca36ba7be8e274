import type { Plate } from '../plates/plate.ts';
import type { BitPlane } from '../raster/bitPlane.ts';
import { joinCorners } from '../raster/joinCorners.ts';
import { coarsePitchMm } from '../raster/pixelGrid.ts';
import type { Detail, NarrowPlace, SpotPlace } from './detail.ts';
import { eraseSpot, measureSpot } from './detailDots.ts';
import { findNarrowPlaces } from './detailPlaces.ts';
import {
  findScreened,
  isOfTone,
  isToneFringe,
  type ScreenedTiles,
  screenedAreas,
  screenedPlane,
} from './detailScreened.ts';
import { collectSpots, type Spots } from './detailSpots.ts';
import { withoutTipSpecks } from './detailTips.ts';

/** A dot that is longer than the search in one direction still counts by its area. */
const spotReach = 1.7;

/**
 * Finds every line, gap, dot and island of a plate smaller than was searched for.
 *
 * A line is a stretch of black whose largest inscribed disc is smaller than the search along its middle line, at least
 * one and a half times as long as wide; runs into corners are none, and what thins out to a point is a `taper`. A gap is
 * the same for clear film; film beyond the edge counts as clear, so the margin around the art is no gap. A dot is a part
 * of black (8-connected) not wider than the search by its area, an island the same of clear film (4-connected) within
 * black; three times as long as wide they are lines and gaps. Each place is in one list only.
 * Every pixel is looked at. Widths are of the plate's pixels as they are: `plusMinusMm` covers what sampling at pixel
 * centres leaves open.
 *
 * @param options.searchToMm how broad a detail may be and still be sought
 * @param options.refineBelowMm places narrower than this are measured at several of their narrowest spots
 */
export function measureDetail(plate: Plate, options: { searchToMm: number; refineBelowMm: number }): Detail {
  const { grid, bits } = plate;
  const { searchToMm } = options;
  const searchPx = searchToMm / grid.pitchXMm;
  const refineBelowPx = options.refineBelowMm / grid.pitchXMm;
  const rowPitch = grid.pitchYMm / grid.pitchXMm;
  const blackSpots = collectSpots(bits, false, spotReach * searchPx, rowPitch);
  const clearSpots = collectSpots(bits, true, spotReach * searchPx, rowPitch);
  const screened = findScreened(bits, blackSpots, clearSpots, grid);
  const left = screened.any ? screenedPlane(screened) : null;

  const art: BitPlane = { ...bits, words: bits.words.slice() };
  const blackKinds = sortSpots(blackSpots, screened);
  const clearKinds = sortSpots(clearSpots, screened);
  for (const index of blackKinds.tone) eraseSpot(art, false, blackSpots, index);
  for (const index of clearKinds.tone) eraseSpot(art, true, clearSpots, index);

  const found = (inverted: boolean, spots: Spots, candidates: readonly number[]) => {
    const places: SpotPlace[] = [];
    const shape: BitPlane = { ...art, words: art.words.slice() };
    for (const index of candidates) {
      const place = measureSpot(art, inverted, spots, index, grid, searchToMm);
      if (place === null) continue;
      places.push(place);
      eraseSpot(shape, inverted, spots, index);
    }
    if (inverted) joinCorners(shape);
    const stretches = findNarrowPlaces(shape, inverted, left, grid, searchPx, refineBelowPx);
    return {
      places: places.filter((place) => !isToneFringe(screened, place)),
      stretches: stretches.filter((place) => !isToneFringe(screened, place)),
    };
  };
  const black = found(false, blackSpots, blackKinds.art);
  const clear = found(true, clearSpots, clearKinds.art);
  const pitch = coarsePitchMm(grid);
  const lines = withoutTipSpecks(black.stretches, clear.stretches, pitch);
  const gaps = withoutTipSpecks(clear.stretches, black.stretches, pitch);
  const dots = withoutTipSpecks(black.places, black.stretches, pitch).toSorted(bySize);
  const islands = withoutTipSpecks(clear.places, clear.stretches, pitch).toSorted(bySize);
  return {
    searchedToMm: searchToMm,
    plusMinusMm: pitch,
    lines,
    gaps,
    dots,
    islands,
    minLineMm: smallestLine(lines),
    minGapMm: smallestLine(gaps),
    minDotMm: dots[0]?.equivalentDiameterMm ?? null,
    minIslandMm: islands[0]?.equivalentDiameterMm ?? null,
    screened: { ...screenedAreas(screened), spotCount: blackKinds.tone.length + clearKinds.tone.length },
  };
}

/** Which spots belong to screened parts, and which are to be looked at one by one. */
function sortSpots(spots: Spots, screened: ScreenedTiles): { tone: number[]; art: number[] } {
  const tone: number[] = [];
  const art: number[] = [];
  for (let index = 0; index < spots.count; index++) {
    if (screened.any && isOfTone(screened, spots, index)) tone.push(index);
    else art.push(index);
  }
  return { tone, art };
}

function bySize(a: SpotPlace, b: SpotPlace): number {
  return a.equivalentDiameterMm - b.equivalentDiameterMm || a.boxMm.yMm - b.boxMm.yMm || a.boxMm.xMm - b.boxMm.xMm;
}

function smallestLine(places: readonly NarrowPlace[]): number | null {
  return places.find(({ kind }) => kind === 'line')?.minWidthMm ?? null;
}
