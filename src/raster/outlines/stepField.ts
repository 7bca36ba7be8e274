import type { EdgedPlane } from '../griddedPlane.ts';

/** Places along columns and rows are whole numbers, of which this many stand for a pixel; they stay below 2⁵³. */
const perPixel = 2 ** 32;
/** So much further right and down, a millionth of a pixel, so that a place between two pixels is always past the line. */
const onTheLine = 4096;
const perCell = 8 * perPixel;
/** Steps to a pixel are counted in 4096ths, and so is the room within a cell. */
const shares = 4096;
const mostStepsToPixel = 4096;

/** Reads a plane along a straight way of even steps. Off the film there is no ink, also when inverted. */
export class StepField {
  private readonly words: Int32Array;
  private readonly cells: Uint32Array;
  private readonly wordsPerRow: number;
  private readonly cellWordsPerRow: number;
  private readonly widthPx: number;
  private readonly heightPx: number;
  private readonly pitchXMm: number;
  private readonly pitchYMm: number;
  /** 1: clear film takes the part of ink. */
  private readonly flip: 0 | 1;
  /** The place read from, and the step on from there. */
  private x = 0;
  private y = 0;
  private stepX = 0;
  private stepY = 0;

  constructor({ grid, bits, cells }: EdgedPlane, inverted: boolean) {
    this.words = new Int32Array(bits.words.buffer, bits.words.byteOffset, bits.words.length);
    this.cells = cells.words;
    this.wordsPerRow = bits.wordsPerRow;
    this.cellWordsPerRow = cells.wordsPerRow;
    this.widthPx = bits.widthPx;
    this.heightPx = bits.heightPx;
    this.pitchXMm = grid.pitchXMm;
    this.pitchYMm = grid.pitchYMm;
    this.flip = inverted ? 1 : 0;
  }

  /** Sets the place (mm) to read from, and the step (mm) on from it. */
  stand(xMm: number, yMm: number, stepXMm: number, stepYMm: number): void {
    this.x = Math.trunc((xMm / this.pitchXMm) * perPixel) + onTheLine;
    this.y = Math.trunc((yMm / this.pitchYMm) * perPixel) + onTheLine;
    this.stepX = Math.trunc((stepXMm / this.pitchXMm) * perPixel);
    this.stepY = Math.trunc((stepYMm / this.pitchYMm) * perPixel);
  }

  /** 1 where there is ink so many 128ths of a step on, else 0. */
  at(steps128: number): number {
    const column = Math.floor((this.x + Math.floor((steps128 * this.stepX) / 128)) / perPixel);
    const row = Math.floor((this.y + Math.floor((steps128 * this.stepY) / 128)) / perPixel);
    return this.isOff(column, row) ? this.flip : this.pixel(column, row);
  }

  /** Whether a cell of the plane's size is marked where one stands; true off the film. */
  isMarked(cells: Uint32Array): boolean {
    const column = Math.floor(this.x / perPixel);
    const row = Math.floor(this.y / perPixel);
    return this.isOff(column, row) || this.cellAt(cells, column, row) === 1;
  }

  /**
   * Goes on, or back with `direction` -1, by whole steps from three quarters of one, and answers the first of them, up
   * to `last`, at which the field reads `wanted`, or 0 when none does. What lies in a cell without an edge is passed
   * over after one look.
   */
  firstStep(wanted: number, direction: 1 | -1, last: number): number {
    const dx = direction * this.stepX;
    const dy = direction * this.stepY;
    const fromX = this.x + Math.floor((3 * dx) / 4);
    const fromY = this.y + Math.floor((3 * dy) / 4);
    const perColumn = stepsToPixel(dx);
    const perRow = stepsToPixel(dy);
    for (let k = 1; k <= last; k++) {
      const x = fromX + k * dx;
      const y = fromY + k * dy;
      const column = Math.floor(x / perPixel);
      const row = Math.floor(y / perPixel);
      if (this.isOff(column, row)) {
        if (this.flip === wanted) return k;
        continue;
      }
      if (this.pixel(column, row) === wanted) return k;
      if (this.cellAt(this.cells, column, row) === 0) {
        k += Math.min(stepsWithin(x, dx, perColumn), stepsWithin(y, dy, perRow));
      }
    }
    return 0;
  }

  /** Where ink begins between places so many 128ths of a step on, clear and inked, to a 32nd of what lies between. */
  inkBegins(from128: number, to128: number): number {
    let clear = from128;
    let ink = to128;
    for (let i = 0; i < 5; i++) {
      const middle = (clear + ink) >> 1;
      if (this.at(middle) === 1) ink = middle;
      else clear = middle;
    }
    return (clear + ink) >> 1;
  }

  private isOff(column: number, row: number): boolean {
    return column < 0 || row < 0 || column >= this.widthPx || row >= this.heightPx;
  }

  private pixel(column: number, row: number): number {
    return ((this.words[row * this.wordsPerRow + (column >> 5)] >>> (column & 31)) & 1) ^ this.flip;
  }

  private cellAt(cells: Uint32Array, column: number, row: number): number {
    return (cells[(row >> 3) * this.cellWordsPerRow + (column >> 8)] >>> ((column >> 3) & 31)) & 1;
  }
}

function stepsToPixel(step: number): number {
  return Math.trunc(Math.min(mostStepsToPixel, perPixel / Math.abs(step)) * shares);
}

/** How many whole steps from a place still stay within its cell; never too many. */
function stepsWithin(place: number, step: number, stepsToPixelShares: number): number {
  const inCell = place - perCell * Math.floor(place / perCell);
  const room = Math.floor((step > 0 ? perCell - inCell : inCell) / (perPixel / shares));
  return Math.max(0, Math.floor((room * stepsToPixelShares - 1) / (shares * shares)));
}
