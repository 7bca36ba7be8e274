import type { BoxMm } from '../geometry/box.ts';

/**
 * The pixel grid of a plate. Pixel column c covers c·pitchXMm … (c+1)·pitchXMm of film space, its centre lies at
 * c + 0.5; rows likewise, downwards. Pitches differ on films written with unequal resolutions.
 */
export interface PixelGrid {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly pitchXMm: number;
  readonly pitchYMm: number;
}

/** The coarser of the two pitches: what an error bar is made of. */
export function coarsePitchMm(grid: PixelGrid): number {
  return Math.max(grid.pitchXMm, grid.pitchYMm);
}

/** Film box of a run of pixels: columns `left` to `right` and rows `top` to `bottom`, ends not included. */
export function boxOfPixels(grid: PixelGrid, left: number, top: number, right: number, bottom: number): BoxMm {
  return {
    xMm: left * grid.pitchXMm,
    yMm: top * grid.pitchYMm,
    widthMm: (right - left) * grid.pitchXMm,
    heightMm: (bottom - top) * grid.pitchYMm,
  };
}
