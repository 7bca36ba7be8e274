import type { BoxMm } from '../geometry/box.ts';
import type { Plate } from '../plates/plate.ts';
import { readToneWindow } from '../raster/toneWindow.ts';
import { readWindow } from '../raster/window.ts';
import type { Lattice } from './halftoneLattice.ts';
import type { HalftoneTiles, ToneLevels } from './halftoneTiles.ts';

/** A cell is sampled at least this often along its side, unless pixels are coarser. */
const samplesPerCell = 3.2;
/** Cells are joined to larger ones where a plate has more than this. */
const mostCells = 2_000_000;
const turnSteps = 1024;
const cosines = Float64Array.from({ length: turnSteps }, (_, k) => Math.cos((2 * Math.PI * k) / turnSteps));
const sines = Float64Array.from({ length: turnSteps }, (_, k) => Math.sin((2 * Math.PI * k) / turnSteps));

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
  /** Samples in each cell, and their tones, 0 … 1, added up. */
  readonly counts: Float32Array;
  readonly ink: Float32Array;
  /** Tones times e^(-2πiu), added up, and times e^(-2πiv). */
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
): CellMap {
  const { grid } = plate;
  const { pitchXMm, pitchYMm } = grid;
  const ruling = Math.hypot(lattice.fx, lattice.fy);
  const factor = factorFor(1 / ruling, Math.max(pitchXMm, pitchYMm));
  const map = layCells(lattice, phase, tiles, isAsked, factor);
  const { columns, counts, ink, realU, imaginaryU, realV, imaginaryV, join } = map;
  const perTile = tiles.sidePx / factor;
  const stepX = factor * pitchXMm;
  const stepY = factor * pitchYMm;
  const duX = lattice.fx * stepX;
  const dvX = -lattice.fy * stepX;
  const samples = new SampleStrip(plate, tiles.sidePx, factor, levels);
  for (let tileRow = 0; tileRow < tiles.rows; tileRow++) {
    for (let tileColumn = 0; tileColumn < tiles.perRow; tileColumn++) {
      if (!isAsked(tileRow * tiles.perRow + tileColumn)) continue;
      samples.read(tileColumn * tiles.sidePx, tileRow * tiles.sidePx);
      const wide = Math.min(perTile, Math.floor((grid.widthPx - tileColumn * tiles.sidePx) / factor));
      const high = Math.min(perTile, Math.floor((grid.heightPx - tileRow * tiles.sidePx) / factor));
      const xMm = tileColumn * tiles.sidePx * pitchXMm + stepX / 2;
      for (let row = 0; row < high; row++) {
        const yMm = tileRow * tiles.sidePx * pitchYMm + (row + 0.5) * stepY;
        let u = lattice.fx * xMm + lattice.fy * yMm + map.phaseU - map.left * join;
        let v = -lattice.fy * xMm + lattice.fx * yMm + map.phaseV - map.top * join;
        for (let at = row * perTile; at < row * perTile + wide; at++) {
          const cell = Math.floor(v / join) * columns + Math.floor(u / join);
          counts[cell]++;
          const tone = samples.tones[at];
          if (tone !== 0) {
            const turnU = (u * turnSteps) & (turnSteps - 1);
            const turnV = (v * turnSteps) & (turnSteps - 1);
            ink[cell] += tone;
            realU[cell] += tone * cosines[turnU];
            imaginaryU[cell] -= tone * sines[turnU];
            realV[cell] += tone * cosines[turnV];
            imaginaryV[cell] -= tone * sines[turnV];
          }
          u += duX;
          v += dvX;
        }
      }
    }
  }
  return map;
}

function factorFor(cellMm: number, pitchMm: number): number {
  let factor = 1;
  while (factor < 32 && cellMm / (2 * factor * pitchMm) >= samplesPerCell) factor *= 2;
  return factor;
}

function layCells(
  lattice: Lattice,
  [phaseU, phaseV]: readonly [number, number],
  tiles: HalftoneTiles,
  isAsked: (tile: number) => boolean,
  factor: number,
): CellMap {
  const { fx, fy } = lattice;
  const sideXMm = tiles.sidePx * tiles.grid.pitchXMm;
  const sideYMm = tiles.sidePx * tiles.grid.pitchYMm;
  let [leastU, mostU, leastV, mostV] = [Infinity, -Infinity, Infinity, -Infinity];
  for (let tile = 0; tile < tiles.tones.length; tile++) {
    if (!isAsked(tile)) continue;
    const column = tile % tiles.perRow;
    const row = (tile - column) / tiles.perRow;
    for (const x of [column * sideXMm, (column + 1) * sideXMm]) {
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
  return {
    lattice,
    phaseU,
    phaseV,
    join,
    left,
    top,
    columns,
    rows,
    cellMm: join / Math.hypot(fx, fy),
    attenuation: sinc(factor * tiles.grid.pitchXMm * fx) * sinc(factor * tiles.grid.pitchYMm * fy),
    counts: empty(),
    ink: empty(),
    realU: empty(),
    imaginaryU: empty(),
    realV: empty(),
    imaginaryV: empty(),
  };
}

/** Tones of a tile by squares of pixels, 0 … 1. */
class SampleStrip {
  readonly tones: Float32Array;
  readonly #plate: Plate;
  readonly #side: number;
  readonly #factor: number;
  readonly #levels: ToneLevels;
  readonly #pixels: Uint8Array<ArrayBuffer>;

  constructor(plate: Plate, side: number, factor: number, levels: ToneLevels) {
    this.tones = new Float32Array((side / factor) ** 2);
    this.#plate = plate;
    this.#side = side;
    this.#factor = factor;
    this.#levels = levels;
    this.#pixels = new Uint8Array(side * side);
  }

  read(left: number, top: number): void {
    const side = this.#side;
    const factor = this.#factor;
    const pixels = this.#pixels;
    const { tone, bits } = this.#plate;
    if (tone === null) readWindow(bits, left, top, side, side, pixels);
    else readToneWindow(tone, left, top, side, side, pixels);
    const { clear, solid } = this.#levels;
    const offset = tone === null ? 0 : clear;
    const scale = 1 / (factor * factor * (tone === null ? 1 : solid - clear));
    const perTile = side / factor;
    for (let row = 0; row < perTile; row++) {
      for (let column = 0; column < perTile; column++) {
        let sum = -offset * factor * factor;
        for (let r = row * factor; r < (row + 1) * factor; r++) {
          const from = r * side + column * factor;
          for (let at = from; at < from + factor; at++) sum += pixels[at];
        }
        this.tones[row * perTile + column] = sum * scale;
      }
    }
  }
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
