import { type BoxMm, containsBox } from '../geometry/box.ts';
import { visitComponents } from '../raster/components.ts';
import { discOfRadius } from '../raster/disc.ts';
import { type GriddedPlane, isSameGrid } from '../raster/griddedPlane.ts';
import { dilatedByDisc } from '../raster/morphology.ts';
import { boxOfPixels } from '../raster/pixelGrid.ts';
import { resampledPlane } from '../raster/resampledPlane.ts';

export interface BarePart {
  readonly boxMm: BoxMm;
  readonly areaMm2: number;
}

/** Fewer pixels than this are no part of the art. */
const fewestPixels = 4;
const mostParts = 500;

/**
 * Finds connected parts of planes, one after another, that no ink of the plane below lies within `searchToMm` of, to a
 * pixel. Parts that lie in one of the boxes are left out.
 */
export function bareFinder(
  below: GriddedPlane,
  searchToMm: number,
  ignoreBoxes: readonly BoxMm[],
): (plane: GriddedPlane) => BarePart[] {
  const { grid } = below;
  const near = dilatedByDisc(below.bits, discOfRadius(searchToMm / grid.pitchXMm, grid.pitchYMm / grid.pitchXMm));
  const pixelMm2 = grid.pitchXMm * grid.pitchYMm;
  return (plane) => {
    const bits = isSameGrid(plane.grid, grid) ? plane.bits : resampledPlane(plane.bits, plane.grid, grid);
    const words = new Uint32Array(bits.words.length);
    for (let i = 0; i < words.length; i++) words[i] = bits.words[i] & ~near.words[i];
    const parts: BarePart[] = [];
    visitComponents({ ...bits, words }, { inverted: false, connectivity: 8 }, (part) => {
      if (part.areaPx < fewestPixels) return;
      const boxMm = boxOfPixels(grid, part.left, part.top, part.right, part.bottom);
      if (!ignoreBoxes.some((box) => containsBox(box, boxMm))) parts.push({ boxMm, areaMm2: part.areaPx * pixelMm2 });
    });
    return parts;
  };
}

/** The first 500, largest first. */
export function largestFirst<Part extends BarePart>(parts: readonly Part[]): Part[] {
  return [...parts]
    .sort((p, q) => q.areaMm2 - p.areaMm2 || p.boxMm.yMm - q.boxMm.yMm || p.boxMm.xMm - q.boxMm.xMm)
    .slice(0, mostParts);
}
