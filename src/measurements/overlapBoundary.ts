import type { BoxMm } from '../geometry/box.ts';
import type { BitPlane } from '../raster/bitPlane.ts';
import { coarsePitchMm, type PixelGrid } from '../raster/pixelGrid.ts';
import { traceContours } from './overlapContour.ts';
import { type InkAt, profileContour } from './overlapProfile.ts';
import { cutStretches, type Stretch } from './overlapStretches.ts';
import { edgeTilePx, findEdgeTiles, mapEdgeTiles, tilesWithinReach } from './overlapTiles.ts';

/** A plane with its grid, as little as the walk along a boundary needs of a plate. */
export interface GriddedPlane {
  readonly grid: PixelGrid;
  readonly bits: BitPlane;
}

export interface BoundaryOptions {
  readonly reachMm: number;
  readonly ignoreBoxes: readonly BoxMm[];
  /** Planes whose ink fills a gap between the two; null: none. */
  readonly covers: readonly GriddedPlane[];
  /** Walk along the clear film of the second plane as if it were its ink. */
  readonly invertOther: boolean;
}

/** All stretches of the common boundary of two planes, found along the outlines of the first, in its film space. */
export function walkBoundary(own: GriddedPlane, other: GriddedPlane, options: BoundaryOptions): Stretch[] {
  const { grid, bits } = own;
  const ownTiles = findEdgeTiles(bits);
  const otherTiles = findEdgeTiles(other.bits);
  const marked = tilesWithinReach(
    ownTiles,
    isSameGrid(grid, other.grid) ? otherTiles : mapEdgeTiles(otherTiles, other.grid, grid, bits.wordsPerRow),
    options.reachMm / grid.pitchXMm,
    options.reachMm / grid.pitchYMm,
  );
  dropIgnoredTiles(marked, ownTiles.tilesPerRow, grid, options.ignoreBoxes);
  const setting = {
    pitchXMm: grid.pitchXMm,
    pitchYMm: grid.pitchYMm,
    reachMm: options.reachMm,
    own: inkReader(own, false),
    other: inkReader(other, options.invertOther),
    countsAt: countsInside(grid, options.ignoreBoxes),
    coveredAt: coverReader(options.covers),
  };
  const pitchMm = coarsePitchMm(grid);
  const stretches: Stretch[] = [];
  let run = 0;
  traceContours(bits, marked, (contour) => {
    const profile = profileContour(contour, setting);
    if (profile === null) return;
    const found = cutStretches(profile, pitchMm, options.reachMm, run);
    if (found.length === 0) return;
    run = found[found.length - 1].run + 1;
    for (const stretch of found) stretches.push(stretch);
  });
  return stretches;
}

export function isSameGrid(a: PixelGrid, b: PixelGrid): boolean {
  return a.widthPx === b.widthPx && a.heightPx === b.heightPx && a.pitchXMm === b.pitchXMm && a.pitchYMm === b.pitchYMm;
}

/** Reads a plane by place on the film. Off the film there is no ink, also when inverted (1 then stands for clear). */
export function inkReader(plane: GriddedPlane, inverted: boolean): InkAt {
  const { words, wordsPerRow, widthPx, heightPx } = plane.bits;
  const perMmX = 1 / plane.grid.pitchXMm;
  const perMmY = 1 / plane.grid.pitchYMm;
  const flip = inverted ? 1 : 0;
  return (xMm, yMm) => {
    const column = Math.floor(xMm * perMmX);
    const row = Math.floor(yMm * perMmY);
    if (column < 0 || row < 0 || column >= widthPx || row >= heightPx) return flip;
    return ((words[row * wordsPerRow + (column >> 5)] >>> (column & 31)) & 1) ^ flip;
  };
}

function coverReader(covers: readonly GriddedPlane[]): InkAt | null {
  if (covers.length === 0) return null;
  const readers = covers.map((plane) => inkReader(plane, false));
  return (xMm, yMm) => (readers.some((at) => at(xMm, yMm) === 1) ? 1 : 0);
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
    const left = Math.max(0, Math.ceil(box.xMm / grid.pitchXMm / edgeTilePx));
    const top = Math.max(0, Math.ceil(box.yMm / grid.pitchYMm / edgeTilePx));
    const right = Math.min(tilesPerRow, Math.floor((box.xMm + box.widthMm) / grid.pitchXMm / edgeTilePx));
    const bottom = Math.min(tileRows, Math.floor((box.yMm + box.heightMm) / grid.pitchYMm / edgeTilePx));
    for (let row = top; row < bottom; row++) {
      if (left < right) marked.fill(0, row * tilesPerRow + left, row * tilesPerRow + right);
    }
  }
}
