import type { Film } from '../artwork/film.ts';
import type { PixelGrid } from '../raster/pixelGrid.ts';
import { pitchMmFromDpi } from '../units/lengths.ts';

/** Vectors are never drawn coarser than this, unless the film is too large for it. */
const coarsestDpi = 600;
const finestDpi = 2400;
/** The narrowest thing that must be judged spans at least this many pixels. */
const pixelsAcrossLimit = 6;
const dpiStep = 10;
/** A plate of more pixels than this is drawn coarser, and said to be. */
export const mostPixelsPerPlate = 1_000_000_000;

/**
 * The grid a film is measured on. A bitmap film keeps its own. For vectors the pitch is chosen so that the smallest
 * limit spans at least six pixels.
 *
 * @param smallestLimitMm the smallest width any of the film's plates is judged against.
 * @returns the grid and whether it had to be made coarser than the limit asks, because the film is so large.
 */
export function workingGrid(
  film: Film,
  smallestLimitMm: number,
): { readonly grid: PixelGrid; readonly tooCoarse: boolean } {
  if (film.drawing.nativeGrid !== null) return { grid: film.drawing.nativeGrid, tooCoarse: false };
  const neededDpi = (pixelsAcrossLimit / smallestLimitMm) * pitchMmFromDpi(1);
  const wanted = Math.min(finestDpi, Math.max(coarsestDpi, Math.ceil(neededDpi / dpiStep) * dpiStep));
  const affordablePitchMm = Math.sqrt((film.widthMm * film.heightMm) / mostPixelsPerPlate);
  const pitchMm = Math.max(pitchMmFromDpi(wanted), affordablePitchMm);
  return {
    grid: {
      widthPx: Math.max(1, Math.round(film.widthMm / pitchMm)),
      heightPx: Math.max(1, Math.round(film.heightMm / pitchMm)),
      pitchXMm: pitchMm,
      pitchYMm: pitchMm,
    },
    tooCoarse: pitchMm > pitchMmFromDpi(wanted),
  };
}
