import type { BoxMm } from '../geometry/box.ts';
import { coarsePitchMm, type PixelGrid } from '../raster/pixelGrid.ts';
import { traceContours } from './overlapContour.ts';
import { type EdgedPlane, type GriddedPlane, isSameGrid } from './overlapInk.ts';
import { Profiler } from './overlapProfile.ts';
import { Crossing } from './overlapReading.ts';
import { type Stretch, StretchCutter } from './overlapStretches.ts';
import { mapEdgeTiles, tilePx, tilesOfCells, tilesWithinReach } from './overlapTiles.ts';

export interface BoundaryOptions {
  readonly reachMm: number;
  readonly ignoreBoxes: readonly BoxMm[];
  /** Planes whose ink fills a gap between the two. */
  readonly covers: readonly GriddedPlane[];
  /** Walk along the clear film of the second plane as if it were its ink. */
  readonly invertOther: boolean;
}

/** All stretches of the common boundary of two planes, found along the outlines of the first, in its film space. */
export function walkBoundary(own: EdgedPlane, other: EdgedPlane, options: BoundaryOptions): readonly Stretch[] {
  const { grid, bits } = own;
  const ownTiles = tilesOfCells(own.cells, bits.wordsPerRow);
  const otherTiles = tilesOfCells(other.cells, other.bits.wordsPerRow);
  const marked = tilesWithinReach(
    ownTiles,
    isSameGrid(grid, other.grid) ? otherTiles : mapEdgeTiles(otherTiles, other.grid, grid, bits.wordsPerRow),
    options.reachMm / grid.pitchXMm,
    options.reachMm / grid.pitchYMm,
  );
  dropIgnoredTiles(marked, ownTiles.tilesPerRow, grid, options.ignoreBoxes);
  const profiler = new Profiler({
    pitchXMm: grid.pitchXMm,
    pitchYMm: grid.pitchYMm,
    crossing: new Crossing(own, other, options),
    countsAt: countsInside(grid, options.ignoreBoxes),
  });
  const cutter = new StretchCutter(coarsePitchMm(grid), options.reachMm);
  traceContours(bits, marked, (contour) => {
    const profile = profiler.profile(contour);
    if (profile !== null) cutter.cut(profile);
  });
  return cutter.stretches;
}

/** Where art is cut by the border of the film there is no edge to measure. */
function countsInside(grid: PixelGrid, boxes: readonly BoxMm[]): (xMm: number, yMm: number) => boolean {
  const marginX = grid.pitchXMm;
  const marginY = grid.pitchYMm;
  const rightMm = (grid.widthPx - 1) * grid.pitchXMm;
  const bottomMm = (grid.heightPx - 1) * grid.pitchYMm;
  return (xMm, yMm) => {
    if (xMm < marginX || yMm < marginY || xMm > rightMm || yMm > bottomMm) return false;
    for (const box of boxes) {
      if (xMm >= box.xMm && yMm >= box.yMm && xMm <= box.xMm + box.widthMm && yMm <= box.yMm + box.heightMm) {
        return false;
      }
    }
    return true;
  };
}

function dropIgnoredTiles(marked: Uint8Array, tilesPerRow: number, grid: PixelGrid, boxes: readonly BoxMm[]): void {
  const tileRows = marked.length / tilesPerRow;
  for (const box of boxes) {
    const left = Math.max(0, Math.ceil(box.xMm / grid.pitchXMm / tilePx));
    const top = Math.max(0, Math.ceil(box.yMm / grid.pitchYMm / tilePx));
    const right = Math.min(tilesPerRow, Math.floor((box.xMm + box.widthMm) / grid.pitchXMm / tilePx));
    const bottom = Math.min(tileRows, Math.floor((box.yMm + box.heightMm) / grid.pitchYMm / tilePx));
    for (let row = top; row < bottom; row++) {
      if (left < right) marked.fill(0, row * tilesPerRow + left, row * tilesPerRow + right);
    }
  }
}
