import { boxSums } from '../raster/boxSums.ts';
import { countAround } from './halftoneAround.ts';
import type { CellMap, CellTurns } from './halftoneCells.ts';
import { connectCells } from './halftoneConnect.ts';
import { addBetweenFaintLines } from './halftoneFaint.ts';

/** Cells to each side that are looked at together with one. */
const reach = 3;
/**
 * What a lattice puts on its own frequency of what lines of its tones would: dots of half tone 0.6 of it, letters 0.2.
 * Soft edges take much of it from small cells.
 */
const leastStrength = { dots: 0.38, lines: 0.7, softDots: 0.25, softLines: 0.35 };
/** A cell of grey film is clear below this tone, and solid above the rest to 1. */
const leastGreyTone = 0.015;
/** A few cells of any art add up to the square root of their number: so many tell as they are, fewer have to be stronger. */
const fewTelling = 8.4;
/** In middle tones as many of the cells around are whole; of lines that come near each other fewer. */
const leastWhole = 0.35;
/**
 * Lines as far apart as dots put all they have on one of the two frequencies: in middle tones the weaker one is at least so
 * much of the stronger, or, as chains of dots have little on one, such a share of what it is where the lattice was found.
 */
const leastBalance = { ofStronger: 0.25, ofFound: 0.4 };
const middleTones = { from: 0.1, to: 0.9 };
const fewestCells = 30;
/** The squares of neighbouring rows overlap: of parts of more cells, rows a square apart tell as much as all. */
const manyCells = 20_000;
/** A part is as broad as this both ways, in cells. */
const leastSideCells = 4;

/** Sums over squares of cells around each, of what a lattice puts on its frequencies. */
export type LatticeField = CellTurns;

export const fieldReach = reach;

/** The field of the cells that count, 1, in place of their turns. */
function fieldOf({ columns, rows }: CellMap, turns: CellTurns, isKept: Uint8Array): LatticeField {
  for (const values of [turns.realU, turns.imaginaryU, turns.realV, turns.imaginaryV]) {
    boxSums(values, columns, rows, reach, values, isKept);
  }
  return turns;
}

/** What a lattice puts on its frequency at least around each cell, by the tones of the whole cells there. */
function leastOf(map: CellMap, isWhole: Uint8Array, isGrey: boolean): Float32Array {
  const { counts, ink, columns, rows, attenuation, lattice } = map;
  const share = leastStrength[lattice.isLines ? (isGrey ? 'softLines' : 'lines') : isGrey ? 'softDots' : 'dots'];
  const least = new Float32Array(counts.length);
  for (let cell = 0; cell < least.length; cell++) {
    if (isWhole[cell] === 1) least[cell] = share * lineStrength(ink[cell] / counts[cell]) * attenuation * counts[cell];
  }
  return boxSums(least, columns, rows, reach, least);
}

/** What lines of a tone, 0 … 1, put on their frequency: sin(π tone) / π, to 1 in 5000. */
function lineStrength(tone: number): number {
  const y = tone * (1 - tone);
  return y * (1 + y * (1 + 0.3718 * y));
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
  /** Whole cells enough to tell what all have alike: of a large part, those of the rows that are a square apart. */
  readonly telling: Int32Array;
}

export interface FoundParts {
  /** Largest first. */
  readonly parts: readonly LatticePart[];
  readonly field: LatticeField;
  /** By cells of the map, how many of it and its eight neighbours are whole cells that follow the lattice. */
  readonly wholeAround: Uint8Array;
}

/**
 * The parts that follow a lattice, and what it puts on its frequencies in the cells that no edge runs
 * through.
 * @param turns of the map; the field takes their place
 * @param balance of the two frequencies where the lattice was found
 */
export function findParts(
  map: CellMap,
  turns: CellTurns,
  isGrey: boolean,
  pixelsPerCell: number,
  balance: number,
): FoundParts {
  const isWhole = new Uint8Array(map.counts.length);
  const present = presentCells(map, isGrey);
  if (map.lattice.isLines && !isGrey) addBetweenFaintLines(map, pixelsPerCell, present);
  // Where an edge runs through a cell, the neighbour furthest out is bare.
  const around = countAround(present, map.columns, map.rows);
  for (let cell = 0; cell < isWhole.length; cell++) if (around[cell] === 9) isWhole[cell] = 1;
  const field = fieldOf(map, turns, isWhole);
  const weaker = Math.min(leastBalance.ofStronger, leastBalance.ofFound * balance);
  keepFollowers(map, field, leastOf(map, isWhole, isGrey), flagsAround(map, present, isWhole), weaker, present);
  for (let cell = 0; cell < isWhole.length; cell++) isWhole[cell] &= present[cell];
  const leastSide = leastSideCells / map.join;
  const parts = connectCells(map, present)
    .filter(({ cells, columns, rows }) => {
      return cells.length * map.join ** 2 >= fewestCells && columns >= leastSide && rows >= leastSide;
    })
    .map(({ cells }) => {
      const whole = flagged(cells, isWhole);
      return { cells, whole, telling: whole.length > manyCells ? rowsApart(whole, map.columns) : whole };
    })
    .sort((a, b) => b.cells.length - a.cells.length || a.cells[0] - b.cells[0]);
  return { parts, field, wholeAround: countAround(isWhole, map.columns, map.rows) };
}

/** Cells, in order, of every so many-th row. */
function rowsApart(cells: Int32Array, columns: number): Int32Array {
  const kept = new Int32Array(cells.length);
  const firstRow = Math.floor(cells[0] / columns);
  let [length, rowEnd, isKept] = [0, 0, false];
  for (let k = 0; k < cells.length; k++) {
    if (cells[k] >= rowEnd) {
      const row = Math.floor(cells[k] / columns);
      rowEnd = (row + 1) * columns;
      isKept = (row - firstRow) % (2 * reach + 1) === 0;
    }
    if (isKept) kept[length++] = cells[k];
  }
  return kept.slice(0, length);
}

/** Those of the cells that are flagged, 1. */
function flagged(cells: Int32Array, flags: Uint8Array): Int32Array {
  const kept = new Int32Array(cells.length);
  let length = 0;
  for (let k = 0; k < cells.length; k++) if (flags[cells[k]] === 1) kept[length++] = cells[k];
  return kept.slice(0, length);
}

/**
 * Cells that hold both black and clear, and those in the middle of such: of the smallest dots some are missing. The
 * holes of the darkest tones lie where four cells meet, and may be found in any of the four.
 */
function presentCells(map: CellMap, isGrey: boolean): Uint8Array {
  const mixed = mixedCells(map, isGrey);
  const near = countAround(mixed, map.columns, map.rows);
  const present = mixed.slice();
  for (let cell = 0; cell < present.length; cell++) {
    // Where nothing was looked at there is no cell, however many lie around it.
    if (mixed[cell] === 1 || map.counts[cell] === 0 || near[cell] < fewestNearHoles) continue;
    if (near[cell] >= 7 || (map.ink[cell] > 0 && hasMixedCorners(mixed, cell, map.columns))) present[cell] = 1;
  }
  return present;
}

/** Fewer cells around one than that do not lie on all of its sides. */
const fewestNearHoles = 4;

/** Whether at each corner of a cell one of the cells that meet there is mixed; of cells with some around them. */
function hasMixedCorners(mixed: Uint8Array, cell: number, columns: number): boolean {
  const [above, below] = [cell - columns, cell + columns];
  const left = mixed[cell - 1];
  const right = mixed[cell + 1];
  const up = mixed[above];
  const down = mixed[below];
  return (
    (left | up | mixed[above - 1]) === 1 &&
    (right | up | mixed[above + 1]) === 1 &&
    (left | down | mixed[below - 1]) === 1 &&
    (right | down | mixed[below + 1]) === 1
  );
}

/** A square has fewer cells than that. */
const countBase = 64;

/** How many cells of a square around each are whole, and, times 64, how many are present. */
function flagsAround({ columns, rows }: CellMap, present: Uint8Array, isWhole: Uint8Array): Float32Array {
  const sums = new Float32Array(present.length);
  for (let cell = 0; cell < sums.length; cell++) sums[cell] = countBase * present[cell] + isWhole[cell];
  return boxSums(sums, columns, rows, reach, sums);
}

/** Leaves of the cells present, 1, those around which the lattice is strong enough. */
function keepFollowers(
  { lattice, ink, counts }: CellMap,
  { realU, imaginaryU, realV, imaginaryV }: LatticeField,
  least: Float32Array,
  around: Float32Array,
  leastWeaker: number,
  present: Uint8Array,
): void {
  for (let cell = 0; cell < present.length; cell++) {
    if (present[cell] === 0) continue;
    const powerU = realU[cell] ** 2 + imaginaryU[cell] ** 2;
    const powerV = realV[cell] ** 2 + imaginaryV[cell] ** 2;
    const power = lattice.isLines ? powerU : (powerU + powerV) / 2;
    const wholeAround = around[cell] % countBase;
    const few = Math.max(1, fewTelling / wholeAround);
    if (least[cell] <= 0 || power < few * least[cell] ** 2) present[cell] = 0;
    if (lattice.isLines || ink[cell] < middleTones.from * counts[cell] || ink[cell] > middleTones.to * counts[cell])
      continue;
    const isUneven = Math.min(powerU, powerV) < leastWeaker ** 2 * Math.max(powerU, powerV);
    const presentAround = (around[cell] - wholeAround) / countBase;
    if (isUneven || wholeAround < leastWhole * presentAround) present[cell] = 0;
  }
}
