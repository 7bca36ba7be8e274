import type { BitPlane } from './bitPlane.ts';
import { findEdgeCells } from './edgeCells.ts';
import type { PixelGrid } from './pixelGrid.ts';

/** A plane as it lies on the film. */
export interface GriddedPlane {
  readonly grid: PixelGrid;
  readonly bits: BitPlane;
}

/** The same with its edge cells. */
export interface EdgedPlane extends GriddedPlane {
  readonly cells: BitPlane;
}

export function edgedPlane({ grid, bits }: GriddedPlane, cells: BitPlane = findEdgeCells(bits)): EdgedPlane {
  return { grid, bits, cells };
}

export function isSameGrid(a: PixelGrid, b: PixelGrid): boolean {
  return a.widthPx === b.widthPx && a.heightPx === b.heightPx && a.pitchXMm === b.pitchXMm && a.pitchYMm === b.pitchYMm;
}
