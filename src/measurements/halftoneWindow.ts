import type { Plate } from '../plates/plate.ts';
import { type PowerSpectrum, spectrumSide } from '../raster/powerSpectrum.ts';
import { windowSpectrum } from '../raster/windowSpectrum.ts';
import { type FoundLattice, findLattice } from './halftoneLattice.ts';
import { scaleOf } from './halftonePeaks.ts';

export const windowSide = spectrumSide;
/** A cell is looked at best with about as many samples along its side. */
const bestSamples = 8;
const fewestSamples = 5;
const mostSamples = 14;
/** With windows of four times as many pixels, cells of more samples are looked at as well. */
const tooManySamples = 28;
/** Pixels along the side of the finest cell that is one. */
export const fewestPixels = 3.2;
/** 4 lpi, the coarsest looked for. */
export const coarsestCellMm = 25.4 / 4;
/** Share of a window's power that lies on a lattice of dots, and of lines. */
const leastShare = { dots: 0.3, lines: 0.5 };
const leastShareOfAll = 0.25;

/** Looks for lattices in windows of a plate. */
export class LatticeWindows {
  /** Of the window looked at last. */
  readonly spectrum: PowerSpectrum = windowSpectrum();
  #isCoarser = false;
  readonly #plate: Pick<Plate, 'grid' | 'bits' | 'tone'>;

  constructor(plate: Pick<Plate, 'grid' | 'bits' | 'tone'>) {
    this.#plate = plate;
  }

  /** Whether what was found last is for larger windows to tell. */
  get isCoarser(): boolean {
    return this.#isCoarser;
  }

  /**
   * The lattice around a pixel, looked at with as many samples a cell as serve it best; null where there is none, or one
   * for larger windows to tell.
   * @param factor pixels a sample to begin with
   */
  find(column: number, row: number, factor: number): FoundLattice | null {
    const { pitchXMm, pitchYMm } = this.#plate.grid;
    const pitchMm = Math.max(pitchXMm, pitchYMm);
    let now = factor;
    this.#isCoarser = false;
    for (let look = 0; look < 3; look++) {
      const found = this.lookAt(column, row, now);
      if (found === null || !isLattice(found)) return null;
      const cellPx = 1 / (Math.hypot(found.fx, found.fy) * pitchMm);
      if (cellPx < fewestPixels || cellPx * pitchMm > coarsestCellMm) return null;
      this.#isCoarser = cellPx > tooManySamples * factor;
      if (this.#isCoarser) return null;
      const samples = cellPx / now;
      if (samples >= fewestSamples && samples <= mostSamples) return found;
      const better = Math.max(1, Math.round(cellPx / bestSamples));
      if (better === now) return found;
      now = better;
    }
    return null;
  }

  /** The best lattice in a window around a pixel, whatever it is worth. */
  lookAt(column: number, row: number, factor: number): FoundLattice | null {
    const { grid } = this.#plate;
    const half = (windowSide * factor) / 2;
    this.spectrum.read(this.#plate, Math.round(column - half), Math.round(row - half), factor);
    this.spectrum.transform();
    return findLattice(this.spectrum, scaleOf(factor * grid.pitchXMm, factor * grid.pitchYMm));
  }
}

export function factorFor(cellMm: number, pitchMm: number): number {
  return Math.max(1, Math.round(cellMm / pitchMm / bestSamples));
}

function isLattice({ share, shareOfAll, isLines }: FoundLattice): boolean {
  return share >= (isLines ? leastShare.lines : leastShare.dots) && shareOfAll >= leastShareOfAll;
}
