import type { Plate } from '../plates/plate.ts';
import { coarsePitchMm } from '../raster/pixelGrid.ts';
import type { Detail, NarrowPlace } from './detail.ts';
import { findNarrowPlaces } from './detailPlaces.ts';

/**
 * Finds every line, gap, dot and island of a plate smaller than was searched for.
 * @param options.searchToMm how broad a detail may be and still be sought
 * @param options.refineBelowMm places narrower than this are measured at their narrowest spots one by one
 */
export function measureDetail(plate: Plate, options: { searchToMm: number; refineBelowMm: number }): Detail {
  const { grid, bits } = plate;
  const searchPx = options.searchToMm / grid.pitchXMm;
  const refineBelowPx = options.refineBelowMm / grid.pitchXMm;
  const lines = findNarrowPlaces(bits, false, null, grid, searchPx, refineBelowPx);
  const gaps = findNarrowPlaces(bits, true, null, grid, searchPx, refineBelowPx);
  return {
    searchedToMm: options.searchToMm,
    plusMinusMm: coarsePitchMm(grid),
    lines,
    gaps,
    dots: [],
    islands: [],
    minLineMm: smallestLine(lines),
    minGapMm: smallestLine(gaps),
    minDotMm: null,
    minIslandMm: null,
    screened: { sharePercent: 0, boxesMm: [], spotCount: 0 },
  };
}

function smallestLine(places: readonly NarrowPlace[]): number | null {
  return places.find(({ kind }) => kind === 'line')?.minWidthMm ?? null;
}
