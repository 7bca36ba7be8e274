import type { CellMap } from './halftoneCells.ts';

/** Cells to each side that are looked at together with one. */
const reach = 3;
/**
 * What a lattice puts on its own frequency of what lines of its tones would: dots of half tone 0.6 of it, letters 0.2.
 * Soft edges take much of it from small cells.
 */
const leastStrength = { dots: 0.38, lines: 0.7, softDots: 0.25, softLines: 0.35 };
/** A cell of grey film is clear below this tone, and solid above the rest to 1. */
const leastGreyTone = 0.015;
const fewestCells = 30;
/** A part is as broad as this both ways, in cells. */
const leastSideCells = 4;

/** Sums over squares of cells around each, of what a lattice puts on its frequencies. */
export interface LatticeField {
  readonly realU: Float32Array;
  readonly imaginaryU: Float32Array;
  readonly realV: Float32Array;
  readonly imaginaryV: Float32Array;
}

export const fieldReach = reach;

/** @param isKept cells that count, 1 */
function fieldOf(map: CellMap, isKept: Uint8Array): LatticeField {
  const { columns, rows } = map;
  const kept = new Float32Array(isKept.length);
  const sums = (values: Float32Array) => {
    for (let cell = 0; cell < kept.length; cell++) kept[cell] = isKept[cell] === 1 ? values[cell] : 0;
    return boxSums(kept, columns, rows, reach);
  };
  return {
    realU: sums(map.realU),
    imaginaryU: sums(map.imaginaryU),
    realV: sums(map.realV),
    imaginaryV: sums(map.imaginaryV),
  };
}

/** What a lattice could put on its frequency at most around each cell: what lines would. */
function potentialOf(map: CellMap, isKept: Uint8Array): Float32Array {
  const { counts, ink, columns, rows, attenuation } = map;
  const most = new Float32Array(counts.length);
  for (let cell = 0; cell < most.length; cell++) {
    if (isKept[cell] === 0) continue;
    most[cell] = (Math.sin((Math.PI * ink[cell]) / counts[cell]) / Math.PI) * attenuation * counts[cell];
  }
  return boxSums(most, columns, rows, reach);
}

/** Cells that hold both black and clear, 1, or only one of them, 0. */
function mixedCells(map: CellMap, isGrey: boolean): Uint8Array {
  const mixed = new Uint8Array(map.counts.length);
  const least = isGrey ? leastGreyTone : 0.0001;
  for (let cell = 0; cell < mixed.length; cell++) {
    const tone = map.ink[cell] / map.counts[cell];
    if (tone > least && tone < 1 - least) mixed[cell] = 1;
  }
  return mixed;
}

/** A connected part of a plate that follows a lattice. */
export interface LatticePart {
  readonly cells: Int32Array;
  /** Those of them through which no edge of the part runs. */
  readonly whole: Int32Array;
}

/**
 * The parts that follow the lattice, largest first, and what it puts on its frequencies in the cells that no edge runs
 * through.
 */
export function findParts(map: CellMap, isGrey: boolean): { parts: LatticePart[]; field: LatticeField } {
  const { columns, rows } = map;
  const mixed = mixedCells(map, isGrey);
  // Of the smallest dots some are missing.
  const near = boxSums(Float32Array.from(mixed), columns, rows, 1);
  const present = mixed.map((value, cell) => (value === 1 || near[cell] >= 7 ? 1 : 0));
  const around = boxSums(Float32Array.from(present), columns, rows, 1);
  // Where an edge runs through a cell, the neighbour furthest out is bare.
  const isWhole = present.map((_, cell) => (around[cell] === 9 ? 1 : 0));
  const field = fieldOf(map, isWhole);
  const most = potentialOf(map, isWhole);
  const { isLines } = map.lattice;
  const least = isGrey ? leastStrength[isLines ? 'softLines' : 'softDots'] : leastStrength[isLines ? 'lines' : 'dots'];
  const belongs = present.map((value, cell) => {
    if (value === 0) return 0;
    const powerU = field.realU[cell] ** 2 + field.imaginaryU[cell] ** 2;
    const powerV = field.realV[cell] ** 2 + field.imaginaryV[cell] ** 2;
    const strength = Math.sqrt(isLines ? powerU : (powerU + powerV) / 2);
    return most[cell] > 0 && strength >= least * most[cell] ? 1 : 0;
  });
  const parts = connectCells(map, belongs).map((cells) => ({
    cells,
    whole: cells.filter((cell) => isWhole[cell] === 1),
  }));
  return { parts, field };
}

function connectCells(map: CellMap, belongs: Uint8Array): Int32Array[] {
  const { columns, rows } = map;
  const parts: Int32Array[] = [];
  const pending: number[] = [];
  for (let start = 0; start < belongs.length; start++) {
    if (belongs[start] !== 1) continue;
    pending.length = 0;
    pending.push(start);
    belongs[start] = 2;
    let [left, right, top, bottom] = [columns, 0, rows, 0];
    for (let k = 0; k < pending.length; k++) {
      const column = pending[k] % columns;
      const row = (pending[k] - column) / columns;
      left = Math.min(left, column);
      right = Math.max(right, column);
      top = Math.min(top, row);
      bottom = Math.max(bottom, row);
      for (let r = Math.max(0, row - 1); r <= Math.min(rows - 1, row + 1); r++) {
        for (let c = Math.max(0, column - 1); c <= Math.min(columns - 1, column + 1); c++) {
          if (belongs[r * columns + c] !== 1) continue;
          belongs[r * columns + c] = 2;
          pending.push(r * columns + c);
        }
      }
    }
    const least = leastSideCells / map.join;
    if (pending.length * map.join ** 2 < fewestCells || right - left + 1 < least || bottom - top + 1 < least) continue;
    parts.push(Int32Array.from(pending).sort());
  }
  return parts.sort((a, b) => b.length - a.length || a[0] - b[0]);
}

/** Sum of a square of values to `reach` each way around each; beyond the edges lies nothing. */
export function boxSums(values: Float32Array, columns: number, rows: number, reachCells: number): Float32Array {
  const across = new Float32Array(values.length);
  for (let row = 0; row < rows; row++) {
    const from = row * columns;
    let sum = 0;
    for (let column = 0; column < Math.min(reachCells, columns); column++) sum += values[from + column];
    for (let column = 0; column < columns; column++) {
      if (column + reachCells < columns) sum += values[from + column + reachCells];
      if (column - reachCells - 1 >= 0) sum -= values[from + column - reachCells - 1];
      across[from + column] = sum;
    }
  }
  const result = new Float32Array(values.length);
  const sums = new Float64Array(columns);
  for (let row = -reachCells; row < rows; row++) {
    const entering = (row + reachCells) * columns;
    const leaving = (row - reachCells - 1) * columns;
    for (let column = 0; column < columns; column++) {
      if (row + reachCells < rows) sums[column] += across[entering + column];
      if (leaving >= 0) sums[column] -= across[leaving + column];
      if (row >= 0) result[row * columns + column] = sums[column];
    }
  }
  return result;
}
