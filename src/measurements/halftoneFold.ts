import type { Plate } from '../plates/plate.ts';
import { readToneWindow } from '../raster/toneWindow.ts';
import { readWindow } from '../raster/window.ts';
import { type CellMap, placeOfCell } from './halftoneCells.ts';
import type { Lattice } from './halftoneLattice.ts';
import type { LatticeField } from './halftoneMembers.ts';
import type { ToneLevels } from './halftoneTiles.ts';

export const foldSide = 24;
/** Tones from … to of which dots are folded together, 0 … 1. */
const toneClasses = [0.08, 0.2, 0.3, 0.4, 0.47, 0.53, 0.62, 0.72, 0.82, 0.92];
const patchesPerClass = 16;
/** A patch is a cell with its eight neighbours. */
const patchReachCells = 1.5;

/** The cells of patches of much the same tone laid on each other, the dot's middle at bin 0, 0; u along rows. */
export interface FoldedCell {
  readonly tones: Float64Array;
  readonly tone: number;
  readonly patches: number;
}

/** Where cells lie and how far the dots in them are off their middles, and how many whole ones are around each. */
interface CellsFolded {
  readonly map: CellMap;
  readonly field: LatticeField;
  readonly wholeAround: Uint8Array;
}

/** Lays the cells of patches from all over the parts on each other, tone by tone. */
export function foldCells(
  plate: Plate,
  lattice: Lattice,
  { map, field, wholeAround }: CellsFolded,
  cellsByTone: readonly { readonly cells: Int32Array; readonly tones: Float32Array }[],
  levels: ToneLevels,
): FoldedCell[] {
  const byClass = toneClasses.map(() => 0);
  const eachWellWithin = (visit: (cell: number, index: number) => void) => {
    for (const { cells, tones } of cellsByTone) {
      for (let k = 0; k < cells.length; k++) {
        if (wholeAround[cells[k]] !== 9) continue;
        const index = classOf(tones[cells[k]]);
        if (index >= 0) visit(cells[k], index);
      }
    }
  };
  eachWellWithin((_, index) => byClass[index]++);
  const picked = toneClasses.map((): number[] => []);
  const met = toneClasses.map(() => 0);
  eachWellWithin((cell, index) => {
    const step = Math.max(1, byClass[index] / patchesPerClass);
    const taken = picked[index].length;
    if (taken < patchesPerClass && met[index]++ === Math.floor((taken + 0.5) * step)) picked[index].push(cell);
  });
  return picked.flatMap((cells) => {
    if (cells.length === 0) return [];
    const folder = new Folder(plate, lattice, levels);
    for (const cell of cells) folder.add(map, field, cell);
    const tones = folder.folded();
    if (tones === null) return [];
    return [{ tones, tone: tones.reduce((sum, tone) => sum + tone, 0) / tones.length, patches: cells.length }];
  });
}

/** Index of the class of a tone, or -1. */
function classOf(tone: number): number {
  if (tone < toneClasses[0]) return -1;
  for (let index = 1; index < toneClasses.length; index++) if (tone < toneClasses[index]) return index - 1;
  return -1;
}

class Folder {
  readonly #plate: Plate;
  readonly #lattice: Lattice;
  readonly #levels: ToneLevels;
  readonly #sums = new Float64Array(foldSide * foldSide);
  readonly #counts = new Float64Array(foldSide * foldSide);

  constructor(plate: Plate, lattice: Lattice, levels: ToneLevels) {
    this.#plate = plate;
    this.#lattice = lattice;
    this.#levels = levels;
  }

  add(map: CellMap, field: LatticeField, cell: number): void {
    const { grid, bits, tone } = this.#plate;
    const { fx, fy } = this.#lattice;
    const column = cell % map.columns;
    const { xMm, yMm } = placeOfCell(map, column + 0.5, (cell - column) / map.columns + 0.5);
    // Far enough for the corners of a patch at any angle.
    const reachMm = (Math.SQRT2 * patchReachCells) / Math.hypot(fx, fy);
    const left = Math.max(0, Math.floor((xMm - reachMm) / grid.pitchXMm));
    const top = Math.max(0, Math.floor((yMm - reachMm) / grid.pitchYMm));
    const widthPx = Math.min(grid.widthPx, Math.ceil((xMm + reachMm) / grid.pitchXMm)) - left;
    const heightPx = Math.min(grid.heightPx, Math.ceil((yMm + reachMm) / grid.pitchYMm)) - top;
    const pixels = new Uint8Array(widthPx * heightPx);
    if (tone === null) readWindow(bits, left, top, widthPx, heightPx, pixels);
    else readToneWindow(tone, left, top, widthPx, heightPx, pixels);
    const { clear, solid } = this.#levels;
    const offset = tone === null ? 0 : clear;
    const range = tone === null ? 1 : solid - clear;
    // The map's phases tell where the dots' middles lie around this cell, by the map's own lattice.
    const [middleU, middleV] = middleOf(map, field, cell, xMm, yMm);
    for (let row = 0; row < heightPx; row++) {
      const y = (top + row + 0.5) * grid.pitchYMm - yMm;
      for (let c = 0; c < widthPx; c++) {
        const x = (left + c + 0.5) * grid.pitchXMm - xMm;
        const fromU = fx * x + fy * y;
        const fromV = -fy * x + fx * y;
        if (Math.abs(fromU) > patchReachCells || Math.abs(fromV) > patchReachCells) continue;
        const u = fromU - middleU;
        const v = fromV - middleV;
        const binU = Math.floor((u - Math.floor(u)) * foldSide);
        const binV = this.#lattice.isLines ? 0 : Math.floor((v - Math.floor(v)) * foldSide);
        const bin = (binV % foldSide) * foldSide + (binU % foldSide);
        this.#sums[bin] += (pixels[row * widthPx + c] - offset) / range;
        this.#counts[bin]++;
      }
    }
  }

  /** Mean tones by bins, those of the bins around taken in so that none stays empty; null where too little was added. */
  folded(): Float64Array | null {
    if (this.#lattice.isLines) {
      for (let row = 1; row < foldSide; row++) {
        this.#sums.copyWithin(row * foldSide, 0, foldSide);
        this.#counts.copyWithin(row * foldSide, 0, foldSide);
      }
    }
    const sums = smoothedTorus(this.#sums);
    const counts = smoothedTorus(this.#counts);
    if (counts.some((count) => count === 0)) return null;
    return sums.map((sum, bin) => sum / counts[bin]);
  }
}

/** Soft edges and small cells leave greys in cells laid on each other, that many times what edges of a pixel do. */
const mostGrey = { hard: 1.6, soft: 3 };
const alwaysGrey = 0.1;
const neverGreyer = 0.65;

/** Whether cells laid on each other are black and clear again, but for their edges. */
export function cellsAreAlike(folds: readonly FoldedCell[], pixelsPerCell: number, isGrey: boolean): boolean {
  let grey = 0;
  let most = 0;
  for (const { tones, tone, patches } of folds) {
    const spread = tone * (1 - tone);
    const edgeWidth = 1 / pixelsPerCell + 2 / foldSide;
    const edge = 2 * Math.sqrt(Math.PI * Math.min(tone, 1 - tone)) * (edgeWidth / 4);
    const allowed = (isGrey ? mostGrey.soft : mostGrey.hard) * edge + alwaysGrey * spread;
    grey += (patches * tones.reduce((sum, value) => sum + value * (1 - value), 0)) / tones.length;
    most += patches * Math.min(allowed, isGrey ? spread : neverGreyer * spread);
  }
  return grey <= most;
}

/** Offset of the nearest dots' middle from a place, in cells along u and v. */
function middleOf(map: CellMap, field: LatticeField, cell: number, xMm: number, yMm: number): [number, number] {
  const { fx, fy } = map.lattice;
  const u = fx * xMm + fy * yMm + map.phaseU;
  const v = -fy * xMm + fx * yMm + map.phaseV;
  const turnsU = -Math.atan2(field.imaginaryU[cell], field.realU[cell]) / (2 * Math.PI);
  const turnsV = -Math.atan2(field.imaginaryV[cell], field.realV[cell]) / (2 * Math.PI);
  return [turnsU - u, turnsV - v];
}

/** Each bin with its eight neighbours, weighted 1 2 1 both ways, on a sheet whose edges meet. */
export function smoothedTorus(values: Float64Array): Float64Array {
  const last = foldSide - 1;
  const across = new Float64Array(values.length);
  for (let first = 0; first < values.length; first += foldSide) {
    for (let column = 0; column < foldSide; column++) {
      const before = values[first + (column === 0 ? last : column - 1)];
      const after = values[first + (column === last ? 0 : column + 1)];
      across[first + column] = before + 2 * values[first + column] + after;
    }
  }
  const result = new Float64Array(values.length);
  for (let at = 0; at < values.length; at++) {
    const above = across[at < foldSide ? at + last * foldSide : at - foldSide];
    const below = across[at >= last * foldSide ? at - last * foldSide : at + foldSide];
    result[at] = above + 2 * across[at] + below;
  }
  return result;
}
