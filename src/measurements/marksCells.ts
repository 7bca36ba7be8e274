import type { BitPlane } from '../raster/bitPlane.ts';
import { coarseCells } from '../raster/coarseCells.ts';
import type { PixelGrid } from '../raster/pixelGrid.ts';

/** A plate in cells of `factorX` × `factorY` pixels. */
export interface MarkCells {
  readonly factorX: number;
  readonly factorY: number;
  /** Cells with any ink. */
  readonly inked: BitPlane;
  /** Cells with any clear film; null when hardly any cell is black all over, so that nothing can stand white in it. */
  readonly clear: BitPlane | null;
  /** The cells these were made of, three by three; null for those made of pixels. */
  readonly finer: MarkCells | null;
}

/** A mark and its surroundings are first looked at on cells of about this size (100 to the inch). */
export const cellMm = 0.254;
/** Films of more than about two square metres are looked at on larger cells. */
const mostCells = 32_000_000;
/** So many runs of black cells make the field of the smallest mark that could be white in it. */
const fewestBlack = 8;

/** Cells of about a quarter millimetre, ink and clear film in one pass over the plane. */
export function cellsOf(bits: BitPlane, grid: PixelGrid): MarkCells {
  const areaMm2 = grid.widthPx * grid.pitchXMm * grid.heightPx * grid.pitchYMm;
  const sideMm = Math.max(cellMm, Math.sqrt(areaMm2 / mostCells));
  const factorX = Math.max(1, Math.round(sideMm / grid.pitchXMm));
  const factorY = Math.max(1, Math.round(sideMm / grid.pitchYMm));
  const { opaque, clear, blackRuns } = coarseCells(bits, factorX, factorY);
  return { factorX, factorY, inked: opaque, clear: blackRuns < fewestBlack ? null : clear, finer: null };
}

/** The same in cells three times as large, which join what stands a little apart. */
export function coarserCells(finer: MarkCells): MarkCells {
  const { factorX, factorY, inked, clear } = finer;
  const thirds = (plane: BitPlane) => coarseCells(plane, 3, 3).opaque;
  return {
    factorX: 3 * factorX,
    factorY: 3 * factorY,
    inked: thirds(inked),
    clear: clear === null ? null : thirds(clear),
    finer,
  };
}
