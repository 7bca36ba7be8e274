import type { BoxMm } from '../geometry/box.ts';
import type { Plate } from '../plates/plate.ts';
import { bitAt } from '../raster/bitPlane.ts';
import { groupCells } from '../raster/cellGroups.ts';
import { discOfRadius } from '../raster/disc.ts';
import { type GriddedPlane, isSameGrid } from '../raster/griddedPlane.ts';
import { dilatedByDisc } from '../raster/morphology.ts';
import { boxOfPixels } from '../raster/pixelGrid.ts';
import { reducedPlane } from '../raster/reducedPlane.ts';
import { resampledPlane } from '../raster/resampledPlane.ts';

export interface BarePart {
  readonly boxMm: BoxMm;
  readonly areaMm2: number;
  readonly plateId: string;
}

/** Cells the search distance is divided into: what its error bar is made of. */
const cellsToSearch = 8;
/** Fewer pixels than this are no part of the art. */
const fewestPixels = 4;
const mostParts = 500;

/**
 * Parts of the plates that no base lies within `searchToMm` of, largest first, at most 500. The distance is taken on
 * cells of an eighth of the search, so a part is reported from 1 to about 1.3 times that distance on.
 */
export function findBareParts(
  base: GriddedPlane,
  tops: readonly Plate[],
  searchToMm: number,
  ignoreBoxes: readonly BoxMm[],
): BarePart[] {
  const { grid } = base;
  const factorX = Math.max(1, Math.floor(searchToMm / grid.pitchXMm / cellsToSearch));
  const factorY = Math.max(1, Math.floor(searchToMm / grid.pitchYMm / cellsToSearch));
  const cellXMm = factorX * grid.pitchXMm;
  const cellYMm = factorY * grid.pitchYMm;
  const reach = discOfRadius(searchToMm / cellXMm + 0.5, cellYMm / cellXMm);
  const near = dilatedByDisc(reducedPlane(base.bits, factorX, factorY), reach);
  const parts: BarePart[] = [];
  for (const top of tops) {
    const bits = isSameGrid(top.grid, grid) ? top.bits : resampledPlane(top.bits, top.grid, grid);
    const bare = reducedPlane(bits, factorX, factorY);
    for (let i = 0; i < bare.words.length; i++) bare.words[i] &= ~near.words[i];
    for (const cells of groupCells(bare)) {
      const part = measurePart(cells, bare.widthPx, { grid, bits }, factorX, factorY, top.id);
      if (part !== null && !ignoreBoxes.some((box) => holds(box, part.boxMm))) parts.push(part);
    }
  }
  return parts
    .sort((p, q) => q.areaMm2 - p.areaMm2 || p.boxMm.yMm - q.boxMm.yMm || p.boxMm.xMm - q.boxMm.xMm)
    .slice(0, mostParts);
}

function measurePart(
  cells: Int32Array,
  cellsPerRow: number,
  plane: GriddedPlane,
  factorX: number,
  factorY: number,
  plateId: string,
): BarePart | null {
  const { grid, bits } = plane;
  let pixels = 0;
  let left = grid.widthPx;
  let top = grid.heightPx;
  let right = 0;
  let bottom = 0;
  for (const cell of cells) {
    const fromColumn = (cell % cellsPerRow) * factorX;
    const fromRow = Math.floor(cell / cellsPerRow) * factorY;
    const endColumn = Math.min(grid.widthPx, fromColumn + factorX);
    const endRow = Math.min(grid.heightPx, fromRow + factorY);
    for (let row = fromRow; row < endRow; row++) {
      for (let column = fromColumn; column < endColumn; column++) {
        if (bitAt(bits, column, row) === 0) continue;
        pixels++;
        if (column < left) left = column;
        if (column >= right) right = column + 1;
        if (row < top) top = row;
        if (row >= bottom) bottom = row + 1;
      }
    }
  }
  if (pixels < fewestPixels) return null;
  return {
    boxMm: boxOfPixels(grid, left, top, right, bottom),
    areaMm2: pixels * grid.pitchXMm * grid.pitchYMm,
    plateId,
  };
}

function holds(outer: BoxMm, inner: BoxMm): boolean {
  return (
    inner.xMm >= outer.xMm &&
    inner.yMm >= outer.yMm &&
    inner.xMm + inner.widthMm <= outer.xMm + outer.widthMm &&
    inner.yMm + inner.heightMm <= outer.yMm + outer.heightMm
  );
}
