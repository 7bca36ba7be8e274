import { popcount } from '../raster/bitPlane.ts';
import { type GriddedPlane, isSameGrid } from '../raster/griddedPlane.ts';
import { resampledPlane } from '../raster/resampledPlane.ts';

/** Area of a plane's ink, and of the part that lies on no ink of the other, mm², counted in the other's pixels. */
export function bareAreaMm2(plane: GriddedPlane, below: GriddedPlane): { areaMm2: number; bareAreaMm2: number } {
  const { grid, bits } = below;
  const words = (isSameGrid(plane.grid, grid) ? plane.bits : resampledPlane(plane.bits, plane.grid, grid)).words;
  let inked = 0;
  let bare = 0;
  for (let i = 0; i < words.length; i++) {
    const word = words[i];
    if (word === 0) continue;
    inked += popcount(word);
    bare += popcount(word & ~bits.words[i]);
  }
  const pixelMm2 = grid.pitchXMm * grid.pitchYMm;
  return { areaMm2: inked * pixelMm2, bareAreaMm2: bare * pixelMm2 };
}
