import { createBitPlane } from '../raster/bitPlane.ts';
import { type GriddedPlane, isSameGrid } from '../raster/griddedPlane.ts';
import { resampledPlane } from '../raster/resampledPlane.ts';

/** Everything any of the planes prints, on the given plane's grid. */
export function unionOnGrid(base: GriddedPlane, planes: readonly GriddedPlane[]): GriddedPlane {
  const bits = createBitPlane(base.grid.widthPx, base.grid.heightPx);
  for (const plane of planes) {
    const { words } = isSameGrid(plane.grid, base.grid)
      ? plane.bits
      : resampledPlane(plane.bits, plane.grid, base.grid);
    for (let i = 0; i < words.length; i++) bits.words[i] |= words[i];
  }
  return { grid: base.grid, bits };
}
