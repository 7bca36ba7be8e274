import { popcount } from '../raster/bitPlane.ts';
import { resampledPlane } from '../raster/resampledPlane.ts';
import { type GriddedPlane, isSameGrid } from './overlapBoundary.ts';

/** Area where both planes have ink, mm², counted on the first plane's pixels. */
export function sharedAreaMm2(a: GriddedPlane, b: GriddedPlane): number {
  const aWords = a.bits.words;
  const bWords = (isSameGrid(a.grid, b.grid) ? b.bits : resampledPlane(b.bits, b.grid, a.grid)).words;
  let count = 0;
  for (let i = 0; i < aWords.length; i++) {
    const both = aWords[i] & bWords[i];
    if (both !== 0) count += both === -1 ? 32 : popcount(both);
  }
  return count * a.grid.pitchXMm * a.grid.pitchYMm;
}
