import type { Plate } from '../plates/plate.ts';
import { readToneWindow } from '../raster/toneWindow.ts';
import { type TurnedCells, turnedCells, turnedUnit } from '../raster/turnedCells.ts';
import type { CellMap, CellTurns } from './halftoneCells.ts';
import type { HalftoneTiles, ToneLevels } from './halftoneTiles.ts';

/** Tiles of a row, the last not included. */
export interface TileRun {
  readonly row: number;
  readonly from: number;
  readonly to: number;
}

/** Adds up what the cells of a lattice hold, in blocks of tiles with few cells each, and adds those to the map. */
export class BlocksOfCells {
  readonly #plate: Plate;
  readonly #map: CellMap;
  readonly #levels: ToneLevels;
  readonly #sidePx: number;
  readonly #factor: number;
  readonly #perTile: number;
  readonly #perBlock: number;
  /** Samples in a row and in a column of the plate. */
  readonly #wide: number;
  readonly #high: number;
  readonly #perRow: number;
  /** Cells along the lattice's axes from one sample to the next. */
  readonly #steps: {
    readonly acrossU: number;
    readonly acrossV: number;
    readonly downU: number;
    readonly downV: number;
  };
  readonly #columns: number;
  readonly #rows: number;
  readonly #cells: TurnedCells;
  readonly #pixels: Uint8Array;

  /** @param factor pixels along the side of a sample */
  constructor(
    plate: Plate,
    map: CellMap,
    turns: CellTurns,
    tiles: HalftoneTiles,
    factor: number,
    blockTiles: number,
    levels: ToneLevels,
  ) {
    const { grid } = plate;
    const { fx, fy } = map.lattice;
    const stepX = factor * grid.pitchXMm;
    const stepY = factor * grid.pitchYMm;
    this.#plate = plate;
    this.#map = map;
    this.#levels = levels;
    this.#sidePx = tiles.sidePx;
    this.#factor = factor;
    this.#perTile = tiles.sidePx / factor;
    this.#perBlock = blockTiles * this.#perTile;
    this.#wide = Math.floor(grid.widthPx / factor);
    this.#high = Math.floor(grid.heightPx / factor);
    this.#perRow = tiles.perRow * this.#perTile;
    this.#steps = { acrossU: fx * stepX, acrossV: -fy * stepX, downU: fy * stepY, downV: fx * stepY };
    this.#columns = Math.ceil(this.#perBlock * (Math.abs(fx * stepX) + Math.abs(fy * stepY))) + 3;
    this.#rows = Math.ceil(this.#perBlock * (Math.abs(fy * stepX) + Math.abs(fx * stepY))) + 3;
    this.#cells = turnedCells(factor, this.#perRow, this.#perBlock, this.#columns * this.#rows, { ...map, ...turns });
    this.#pixels = new Uint8Array(plate.tone === null ? 0 : this.#perRow * factor * factor);
  }

  /** Reads the rows of tiles of the blocks that begin with a row. */
  readRows(top: number): void {
    const { bits, tone } = this.#plate;
    if (tone === null) this.#cells.readSquares(bits, top * this.#sidePx, this.#perBlock);
    else this.#readTones(top * this.#sidePx);
  }

  #readTones(top: number): void {
    const { tone, grid } = this.#plate;
    const { samples } = this.#cells;
    const { clear, solid } = this.#levels;
    const factor = this.#factor;
    const pixels = this.#pixels;
    const widthPx = this.#perRow * factor;
    const scale = 1 / (factor * factor * (solid - clear));
    for (let row = 0; row < this.#perBlock && top + row * factor < grid.heightPx; row++) {
      readToneWindow(tone!, 0, top + row * factor, widthPx, factor, pixels);
      for (let column = 0; column < this.#perRow; column++) {
        let sum = -clear * factor * factor;
        for (let r = 0; r < factor; r++) {
          const from = r * widthPx + column * factor;
          for (let at = from; at < from + factor; at++) sum += pixels[at];
        }
        samples[row * this.#perRow + column] = sum * scale;
      }
    }
  }

  /** Adds tiles of the block whose first tile is that of a column and a row. */
  add(tileColumn: number, tileRow: number, runs: readonly TileRun[]): void {
    const { phaseU, phaseV } = this.#map;
    const { acrossU, acrossV, downU, downV } = this.#steps;
    const perTile = this.#perTile;
    const perBlock = this.#perBlock;
    const u = phaseU + perTile * (tileColumn * acrossU + tileRow * downU);
    const v = phaseV + perTile * (tileColumn * acrossV + tileRow * downV);
    const left = Math.floor(u + perBlock * (Math.min(0, acrossU) + Math.min(0, downU))) - 1;
    const top = Math.floor(v + perBlock * (Math.min(0, acrossV) + Math.min(0, downV))) - 1;
    const units = (cells: number) => Math.round(cells * turnedUnit);
    for (const { row, from, to } of runs) {
      const across = (from - tileColumn) * perTile + 0.5;
      const down = (row - tileRow) * perTile + 0.5;
      this.#cells.add(
        {
          first: (row - tileRow) * perTile * this.#perRow + from * perTile,
          wide: Math.min(to * perTile, this.#wide) - from * perTile,
          high: Math.min((row + 1) * perTile, this.#high) - row * perTile,
          u: units(u + across * acrossU + down * downU - left),
          v: units(v + across * acrossV + down * downV - top),
          acrossU: units(acrossU),
          acrossV: units(acrossV),
          downU: units(downU),
          downV: units(downV),
        },
        this.#columns,
      );
    }
    this.#cells.addToMap(left, top, this.#columns, this.#rows);
  }

  /** Fills the map with what was added. */
  fillMap(): void {
    this.#cells.fillMap();
  }
}
