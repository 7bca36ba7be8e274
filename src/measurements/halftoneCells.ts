import type { BoxMm } from '../geometry/box.ts';
import type { Plate } from '../plates/plate.ts';
import { BlocksOfCells, type TileRun } from './halftoneBlocks.ts';
import type { Lattice } from './halftoneLattice.ts';
import type { HalftoneTiles, ToneLevels } from './halftoneTiles.ts';

/** A cell is sampled at least this often along its side, unless pixels are coarser. */
const samplesPerCell = 3.2;
/**
 * And so often where rows of cells run nearly along the samples or across their corners: there samples at the borders of
 * cells are given to the same side over many cells, so that means over cells do not make up for it.
 */
const samplesPerCellAlong = 6.4;
const nearlyAlongRad = (3 * Math.PI) / 180;
/** Cells are joined to larger ones where a plate has more than this. */
const mostCells = 400_000;
/** Tiles are taken together in blocks about this wide, so that the cells of a block stay in the near caches. */
const blockPx = 512;

/**
 * What the cells of a lattice hold. A place x, y mm lies in the cell of column floor(u / join) - left and row
 * floor(v / join) - top, where u = fx · x + fy · y + phaseU and v = -fy · x + fx · y + phaseV.
 */
export interface CellMap {
  readonly lattice: Lattice;
  readonly phaseU: number;
  readonly phaseV: number;
  /** Lattice cells along the side of a cell of the map. */
  readonly join: number;
  readonly left: number;
  readonly top: number;
  readonly columns: number;
  readonly rows: number;
  readonly cellMm: number;
  /** What is left of the lattice's own frequencies by taking samples over squares of pixels. */
  readonly attenuation: number;
  /** Samples that a cell holds on average. */
  readonly meanCount: number;
  /** Samples in each cell, and their tones, 0 … 1, added up. */
  readonly counts: Float32Array;
  readonly ink: Float32Array;
}

/** By the cells of a map, tones times e^(-2πiu), added up, and times e^(-2πiv). */
export interface CellTurns {
  readonly realU: Float32Array;
  readonly imaginaryU: Float32Array;
  readonly realV: Float32Array;
  readonly imaginaryV: Float32Array;
}

/** Adds up what each cell of a lattice holds, over the tiles asked for. */
export function fillCells(
  plate: Plate,
  lattice: Lattice,
  phase: readonly [number, number],
  tiles: HalftoneTiles,
  isAsked: (tile: number) => boolean,
  levels: ToneLevels,
): { map: CellMap; turns: CellTurns } {
  const { pitchXMm, pitchYMm } = plate.grid;
  const ruling = Math.hypot(lattice.fx, lattice.fy);
  const least = runsAlongPixels(lattice) ? samplesPerCellAlong : samplesPerCell;
  const factor = factorFor(1 / ruling, Math.max(pitchXMm, pitchYMm), least);
  const { map, turns } = layCells(lattice, phase, tiles, isAsked, factor);
  const blockTiles = Math.max(1, Math.floor(blockPx / tiles.sidePx));
  const blocks = new BlocksOfCells(plate, map, turns, tiles, factor, blockTiles, levels);
  for (let top = 0; top < tiles.rows; top += blockTiles) {
    let isRead = false;
    for (let left = 0; left < tiles.perRow; left += blockTiles) {
      const runs = runsOfTiles(tiles, left, top, blockTiles, isAsked);
      if (runs.length === 0) continue;
      if (!isRead) blocks.readRows(top);
      isRead = true;
      blocks.add(left, top, runs);
    }
  }
  blocks.fillMap();
  return { map, turns };
}

/** Those of a block that are asked for, row by row. */
function runsOfTiles(
  { perRow, rows }: HalftoneTiles,
  left: number,
  top: number,
  blockTiles: number,
  isAsked: (tile: number) => boolean,
): TileRun[] {
  const runs: TileRun[] = [];
  const right = Math.min(perRow, left + blockTiles);
  for (let row = top; row < Math.min(rows, top + blockTiles); row++) {
    for (let from = left; from < right; from++) {
      let to = from;
      while (to < right && isAsked(row * perRow + to)) to++;
      if (to > from) runs.push({ row, from, to });
      from = to;
    }
  }
  return runs;
}

/** Whether a lattice lies nearly along the pixels or their diagonals. */
function runsAlongPixels({ fx, fy }: Lattice): boolean {
  const eighth = Math.PI / 4;
  const angle = Math.atan2(fy, fx);
  return Math.abs(angle - Math.round(angle / eighth) * eighth) < nearlyAlongRad;
}

function factorFor(cellMm: number, pitchMm: number, least: number): number {
  let factor = 1;
  while (factor < 32 && cellMm / (2 * factor * pitchMm) >= least) factor *= 2;
  return factor;
}

function layCells(
  lattice: Lattice,
  [phaseU, phaseV]: readonly [number, number],
  tiles: HalftoneTiles,
  isAsked: (tile: number) => boolean,
  factor: number,
): { map: CellMap; turns: CellTurns } {
  const { fx, fy } = lattice;
  const sideXMm = tiles.sidePx * tiles.grid.pitchXMm;
  const sideYMm = tiles.sidePx * tiles.grid.pitchYMm;
  let [leastU, mostU, leastV, mostV] = [Infinity, -Infinity, Infinity, -Infinity];
  for (let row = 0; row < tiles.rows; row++) {
    const first = row * tiles.perRow;
    let [from, to] = [0, tiles.perRow];
    while (from < to && !isAsked(first + from)) from++;
    while (from < to && !isAsked(first + to - 1)) to--;
    if (from === to) continue;
    for (const x of [from * sideXMm, to * sideXMm]) {
      for (const y of [row * sideYMm, (row + 1) * sideYMm]) {
        const u = fx * x + fy * y + phaseU;
        const v = -fy * x + fx * y + phaseV;
        leastU = Math.min(leastU, u);
        mostU = Math.max(mostU, u);
        leastV = Math.min(leastV, v);
        mostV = Math.max(mostV, v);
      }
    }
  }
  if (mostU < leastU) [leastU, mostU, leastV, mostV] = [0, 0, 0, 0];
  let join = 1;
  while (((mostU - leastU) / join) * ((mostV - leastV) / join) > mostCells) join++;
  const left = Math.floor(leastU / join) - 1;
  const top = Math.floor(leastV / join) - 1;
  const columns = Math.floor(mostU / join) + 2 - left;
  const rows = Math.floor(mostV / join) + 2 - top;
  const empty = () => new Float32Array(columns * rows);
  const map = {
    lattice,
    phaseU,
    phaseV,
    join,
    left,
    top,
    columns,
    rows,
    cellMm: join / Math.hypot(fx, fy),
    meanCount: join ** 2 / (fx * fx + fy * fy) / (factor ** 2 * tiles.grid.pitchXMm * tiles.grid.pitchYMm),
    attenuation: sinc(factor * tiles.grid.pitchXMm * fx) * sinc(factor * tiles.grid.pitchYMm * fy),
    counts: empty(),
    ink: empty(),
  };
  return { map, turns: { realU: empty(), imaginaryU: empty(), realV: empty(), imaginaryV: empty() } };
}

/** Where a place of the lattice lies on the film; u and v in cells of the map, from its first column and row. */
export function placeOfCell(map: CellMap, column: number, row: number): { xMm: number; yMm: number } {
  const { fx, fy } = map.lattice;
  const u = (map.left + column) * map.join - map.phaseU;
  const v = (map.top + row) * map.join - map.phaseV;
  const size = fx * fx + fy * fy;
  return { xMm: (fx * u - fy * v) / size, yMm: (fy * u + fx * v) / size };
}

/** The cell a place of the film lies in, or -1 beyond the map. */
export function cellAt(map: CellMap, xMm: number, yMm: number): number {
  const { fx, fy } = map.lattice;
  const column = Math.floor((fx * xMm + fy * yMm + map.phaseU) / map.join) - map.left;
  const row = Math.floor((-fy * xMm + fx * yMm + map.phaseV) / map.join) - map.top;
  return column < 0 || row < 0 || column >= map.columns || row >= map.rows ? -1 : row * map.columns + column;
}

/** The box on the film around cells, ends not included. */
export function boxOfCells(map: CellMap, left: number, top: number, right: number, bottom: number): BoxMm {
  const corners = [
    placeOfCell(map, left, top),
    placeOfCell(map, right, top),
    placeOfCell(map, left, bottom),
    placeOfCell(map, right, bottom),
  ];
  const xMm = Math.min(...corners.map((corner) => corner.xMm));
  const yMm = Math.min(...corners.map((corner) => corner.yMm));
  return {
    xMm,
    yMm,
    widthMm: Math.max(...corners.map((corner) => corner.xMm)) - xMm,
    heightMm: Math.max(...corners.map((corner) => corner.yMm)) - yMm,
  };
}

function sinc(turns: number): number {
  return turns === 0 ? 1 : Math.sin(Math.PI * turns) / (Math.PI * turns);
}
