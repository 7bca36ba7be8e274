import type { BoxMm } from '../geometry/box.ts';
import { coarsePitchMm, type PixelGrid } from '../raster/pixelGrid.ts';
import { traceContours } from './overlapContour.ts';
import { type EdgedPlane, isSameGrid } from './overlapInk.ts';
import { KnockOuts } from './overlapKnockOuts.ts';
import { type Profile, Profiler } from './overlapProfile.ts';
import { Crossing, type CrossingOptions } from './overlapReading.ts';
import { type Stretch, StretchCutter } from './overlapStretches.ts';
import { mapEdgeTiles, tilePx, tilesOfCells, tilesWithinReach } from './overlapTiles.ts';

export interface BoundaryOptions extends CrossingOptions {
  /** Where no boundary is measured. */
  readonly ignoreBoxes: readonly BoxMm[];
}

export interface Boundary {
  readonly stretches: readonly Stretch[];
  readonly knockOuts: KnockOuts;
  /** Tiles (32 × 32 px, a word wide) in which outlines of the first plane have an edge of the second near. */
  readonly nearTiles: Uint8Array;
}

/** The common boundary of two planes, found along the outlines of the first, in its film space. */
export function walkBoundary(
  own: EdgedPlane,
  other: EdgedPlane,
  options: BoundaryOptions,
  visit: (profile: Profile) => void = () => {},
): Boundary {
  const { grid, bits } = own;
  const nearTiles = tilesNear(own, other, options);
  const walkedTiles = nearTiles.slice();
  dropIgnoredTiles(walkedTiles, bits.wordsPerRow, grid, options.ignoreBoxes);
  const profiler = new Profiler({
    pitchXMm: grid.pitchXMm,
    pitchYMm: grid.pitchYMm,
    crossing: new Crossing(own, other, options),
    countsAt: countsInside(grid, options.ignoreBoxes),
  });
  const cutter = new StretchCutter(coarsePitchMm(grid), options.reachMm);
  const knockOuts = new KnockOuts();
  traceContours(bits, walkedTiles, (contour) => {
    const profile = profiler.profile(contour);
    if (profile === null) return;
    const from = cutter.stretches.length;
    const samples = cutter.cut(profile);
    knockOuts.take(profile, cutter.stretches, from, samples);
    visit(profile);
  });
  return { stretches: cutter.stretches, knockOuts, nearTiles };
}

/** Strips may lie anywhere on the other plane: then all tiles with an edge are near. */
function tilesNear(own: EdgedPlane, other: EdgedPlane, { reachMm, seekStrips }: BoundaryOptions): Uint8Array {
  const { grid, bits } = own;
  const ownTiles = tilesOfCells(own.cells, bits.wordsPerRow);
  if (seekStrips) return ownTiles.flags;
  const otherTiles = tilesOfCells(other.cells, other.bits.wordsPerRow);
  return tilesWithinReach(
    ownTiles,
    isSameGrid(grid, other.grid) ? otherTiles : mapEdgeTiles(otherTiles, other.grid, grid, bits.wordsPerRow),
    reachMm / grid.pitchXMm,
    reachMm / grid.pitchYMm,
  );
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
