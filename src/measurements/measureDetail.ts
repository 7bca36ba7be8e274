import type { Plate } from '../plates/plate.ts';
import type { BitPlane } from '../raster/bitPlane.ts';
import { joinCorners } from '../raster/joinCorners.ts';
import { coarsePitchMm } from '../raster/pixelGrid.ts';
import type { Detail, NarrowPlace, SpotPlace } from './detail.ts';
import { eraseSpot, measureSpot } from './detailDots.ts';
import { plateWords } from './detailMemory.ts';
import { findNarrowPlaces } from './detailPlaces.ts';
import {
  findScreened,
  isToneFringe,
  placeOfSpot,
  type ScreenedTiles,
  screenedAreas,
  screenedPixels,
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
  const leftOut = screened.any ? screenedPixels(screened) : null;
  const shape: BitPlane = { ...bits, words: plateWords.take(bits.words.length) };

  const blackKinds = sortSpots(blackSpots, screened);
  const clearKinds = sortSpots(clearSpots, screened);
  const found = (inverted: boolean, spots: Spots, candidates: readonly number[]) => {
    const places: SpotPlace[] = [];
    shape.words.set(bits.words);
    for (const index of blackKinds.rim) eraseSpot(shape, false, blackSpots, index);
    for (const index of clearKinds.rim) eraseSpot(shape, true, clearSpots, index);
    for (const index of candidates) {
      const place = measureSpot(bits, inverted, spots, index, grid, searchToMm);
      if (place === null) continue;
      places.push(place);
      eraseSpot(shape, inverted, spots, index);
    }
    if (inverted) joinCorners(shape);
    const stretches = findNarrowPlaces(shape, inverted, leftOut, grid, searchPx, refineBelowPx);
    return {
      places: places.filter((place) => !isToneFringe(screened, place)),
      stretches: stretches.filter((place) => !isToneFringe(screened, place)),
    };
  };
  const black = found(false, blackSpots, blackKinds.art);
  const clear = found(true, clearSpots, clearKinds.art);
  const pitch = coarsePitchMm(grid);
  const lines = withoutTipSpecks(black.stretches, clear.stretches, pitch, clear.places);
  const gaps = withoutTipSpecks(clear.stretches, black.stretches, pitch, black.places);
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
    screened: { ...screenedAreas(screened), spotCount: blackKinds.toneCount + clearKinds.toneCount },
  };
}

/**
 * How many spots belong to screened parts, which of these lie where one borders on line art and have to be taken out,
 * and which are to be looked at one by one.
 */
function sortSpots(spots: Spots, screened: ScreenedTiles): { toneCount: number; rim: number[]; art: number[] } {
  let toneCount = 0;
  const rim: number[] = [];
  const art: number[] = [];
  for (let index = 0; index < spots.count; index++) {
    const place = screened.any ? placeOfSpot(screened, spots, index) : 'art';
    if (place === 'art') art.push(index);
    else toneCount++;
    if (place === 'rim') rim.push(index);
  }
  return { toneCount, rim, art };
}

function bySize(a: SpotPlace, b: SpotPlace): number {
  return a.equivalentDiameterMm - b.equivalentDiameterMm || a.boxMm.yMm - b.boxMm.yMm || a.boxMm.xMm - b.boxMm.xMm;
}

function smallestLine(places: readonly NarrowPlace[]): number | null {
  return places.find(({ kind }) => kind === 'line')?.minWidthMm ?? null;
}
