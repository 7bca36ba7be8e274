import type { BitPlane } from '../raster/bitPlane.ts';
import type { PixelGrid } from '../raster/pixelGrid.ts';
import { cellPx, findEdgeCells } from './overlapCells.ts';

/** A plane with its grid, as little as the walk along a boundary needs of a plate. */
export interface GriddedPlane {
  readonly grid: PixelGrid;
  readonly bits: BitPlane;
}

/** The same with its edge cells. */
export interface EdgedPlane extends GriddedPlane {
  readonly cells: BitPlane;
}

export function edgedPlane({ grid, bits }: GriddedPlane, cells: BitPlane = findEdgeCells(bits)): EdgedPlane {
  return { grid, bits, cells };
}

export function isSameGrid(a: PixelGrid, b: PixelGrid): boolean {
  return a.widthPx === b.widthPx && a.heightPx === b.heightPx && a.pitchXMm === b.pitchXMm && a.pitchYMm === b.pitchYMm;
}

/** Reads a plane by place on the film. Off the film there is no ink, also when inverted (1 then stands for clear). */
export class InkField {
  private readonly words: Int32Array;
  private readonly wordsPerRow: number;
  private readonly widthPx: number;
  private readonly heightPx: number;
  private readonly perMmX: number;
  private readonly perMmY: number;
  private readonly flip: number;

  constructor({ grid, bits }: GriddedPlane, inverted = false) {
    this.words = new Int32Array(bits.words.buffer, bits.words.byteOffset, bits.words.length);
    this.wordsPerRow = bits.wordsPerRow;
    this.widthPx = bits.widthPx;
    this.heightPx = bits.heightPx;
    this.perMmX = 1 / grid.pitchXMm;
    this.perMmY = 1 / grid.pitchYMm;
    this.flip = inverted ? 1 : 0;
  }

  /** 1 where there is ink, else 0. */
  at(xMm: number, yMm: number): number {
    const column = Math.floor(xMm * this.perMmX);
    const row = Math.floor(yMm * this.perMmY);
    if (column < 0 || row < 0 || column >= this.widthPx || row >= this.heightPx) return this.flip;
    return ((this.words[row * this.wordsPerRow + (column >> 5)] >>> (column & 31)) & 1) ^ this.flip;
  }

  /**
   * Goes from a point by steps (mm) and answers the first of steps 1 to `last` at which the field reads `wanted`, or 0
   * when none does. Steps are counted from `start` steps past the point. `cells` are the plane's edge cells: what lies in
   * one that is not marked is passed over after one look.
   */
  firstStep(
    wanted: number,
    xMm: number,
    yMm: number,
    stepXMm: number,
    stepYMm: number,
    start: number,
    last: number,
    cells: BitPlane,
  ): number {
    const { words, wordsPerRow, widthPx, heightPx, flip } = this;
    const dx = stepXMm * this.perMmX;
    const dy = stepYMm * this.perMmY;
    const fromX = xMm * this.perMmX + start * dx;
    const fromY = yMm * this.perMmY + start * dy;
    for (let k = 1; k <= last; k++) {
      const x = fromX + k * dx;
      const y = fromY + k * dy;
      const column = Math.floor(x);
      const row = Math.floor(y);
      if (column < 0 || row < 0 || column >= widthPx || row >= heightPx) {
        if (flip === wanted) return k;
        continue;
      }
      if ((((words[row * wordsPerRow + (column >> 5)] >>> (column & 31)) & 1) ^ flip) === wanted) return k;
      const cellColumn = column >> 3;
      const cellRow = row >> 3;
      if (((cells.words[cellRow * cells.wordsPerRow + (cellColumn >> 5)] >>> (cellColumn & 31)) & 1) === 0) {
        k += Math.min(stepsWithin(x - cellPx * cellColumn, dx), stepsWithin(y - cellPx * cellRow, dy));
      }
    }
    return 0;
  }
}

/** How many whole steps from an offset in a cell still stay in it; a thousand for very many. */
function stepsWithin(offset: number, step: number): number {
  const room = step > 0 ? cellPx - offset : offset;
  const size = Math.abs(step);
  return room >= 1000 * size ? 1000 : (Math.ceil(room / size) - 1) | 0;
}
