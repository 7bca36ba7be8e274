import { type BitPlane, createBitPlane } from './bitPlane.ts';
import { coarsePitchMm, type PixelGrid } from './pixelGrid.ts';

/** Side of a cell in pixels: four to a word. */
export const cellPx = 8;

/** How far beyond the reach, in pixels of either plane, an edge may lie and yet count for a look. */
const roundingPx = 4;

/** The cells of a plane, one bit each, none of them marked. */
export function emptyCells({ widthPx, heightPx }: BitPlane): BitPlane {
  return createBitPlane(Math.ceil(widthPx / cellPx), Math.ceil(heightPx / cellPx));
}

/** How many cells of the other plane away an edge of it may lie that is within reach of a place on the first. */
export function cellsWithinReach(reachMm: number, own: PixelGrid, other: PixelGrid): number {
  const finestMm = Math.min(other.pitchXMm, other.pitchYMm);
  return Math.ceil(((reachMm + roundingPx * coarsePitchMm(own)) / finestMm + roundingPx) / cellPx);
}
