import type { PointMm } from '../geometry/box.ts';
import { bitAt, popcount } from '../raster/bitPlane.ts';
import type { PixelGrid } from '../raster/pixelGrid.ts';
import type { MarkCells } from './marksCells.ts';
import type { ShapedMark } from './marksShaped.ts';

/** Marks on the outer part of a film stand in its border. */
const borderShare = 0.12;
/** Ink is looked for no further than this from a mark. */
const farthestMm = 40;

/** The cells of a plate that hold art: all ink but the marks. */
export class ArtCells {
  readonly #words: Uint32Array;
  readonly #cells: MarkCells;
  readonly #grid: PixelGrid;
  readonly #cellXMm: number;
  readonly #cellYMm: number;

  constructor(cells: MarkCells, grid: PixelGrid, shapes: readonly ShapedMark[]) {
    const { inked, factorX, factorY } = cells;
    this.#cells = cells;
    this.#grid = grid;
    this.#cellXMm = factorX * grid.pitchXMm;
    this.#cellYMm = factorY * grid.pitchYMm;
    this.#words = Uint32Array.from(inked.words);
    for (const { window, mark } of shapes) {
      // A mark white on black takes its field with it.
      const more = mark.reversed ? 0.35 : 0;
      const left = Math.floor((window.left - more * window.width) / factorX);
      const right = Math.floor((window.left + (1 + more) * window.width) / factorX);
      const top = Math.max(0, Math.floor((window.top - more * window.height) / factorY));
      const bottom = Math.min(inked.heightPx - 1, Math.floor((window.top + (1 + more) * window.height) / factorY));
      for (let row = top; row <= bottom; row++) {
        for (let column = Math.max(0, left); column <= Math.min(inked.widthPx - 1, right); column++) {
          this.#words[row * inked.wordsPerRow + (column >> 5)] &= ~(1 << (column & 31));
        }
      }
    }
  }

  /** Corners of the convex hull around the art, in order; none on a plate without. */
  hullMm(): PointMm[] {
    const { inked } = this.#cells;
    const points: PointMm[] = [];
    for (let row = 0; row < inked.heightPx; row++) {
      const ends = this.#endsOf(row);
      if (ends === null) continue;
      for (const yMm of [row * this.#cellYMm, (row + 1) * this.#cellYMm]) {
        points.push({ xMm: ends.first * this.#cellXMm, yMm }, { xMm: (ends.last + 1) * this.#cellXMm, yMm });
      }
    }
    return convexHull(points).map(({ xMm, yMm }) => ({
      xMm: Math.min(xMm, this.#grid.widthPx * this.#grid.pitchXMm),
      yMm: Math.min(yMm, this.#grid.heightPx * this.#grid.pitchYMm),
    }));
  }

  /** Whether a mark lies outside the box around the art, or in the border of its film. */
  isOutside(shape: ShapedMark, box: ReturnType<ArtCells['boxMm']>): boolean {
    const { xMm, yMm } = shape.mark;
    const widthMm = this.#grid.widthPx * this.#grid.pitchXMm;
    const heightMm = this.#grid.heightPx * this.#grid.pitchYMm;
    const inBorder =
      Math.min(xMm, widthMm - xMm) < borderShare * widthMm || Math.min(yMm, heightMm - yMm) < borderShare * heightMm;
    return inBorder || box === null || isBeyond(xMm, yMm, box);
  }

  boxMm(): { leftMm: number; topMm: number; rightMm: number; bottomMm: number } | null {
    const { inked } = this.#cells;
    let [left, right, top, bottom] = [Infinity, -1, -1, -1];
    for (let row = 0; row < inked.heightPx; row++) {
      const ends = this.#endsOf(row);
      if (ends === null) continue;
      if (top < 0) top = row;
      bottom = row + 1;
      left = Math.min(left, ends.first);
      right = Math.max(right, ends.last + 1);
    }
    if (top < 0) return null;
    return {
      leftMm: left * this.#cellXMm,
      topMm: top * this.#cellYMm,
      rightMm: right * this.#cellXMm,
      bottomMm: bottom * this.#cellYMm,
    };
  }

  /** Clear film between a mark's box and the nearest art; null when there is none within 40 mm. */
  distanceMm({ mark, window }: ShapedMark): number | null {
    const { factorX, factorY } = this.#cells;
    const more = mark.reversed ? 0.35 : 0;
    const left = Math.floor((window.left - more * window.width) / factorX);
    const right = Math.floor((window.left + (1 + more) * window.width) / factorX);
    const top = Math.floor((window.top - more * window.height) / factorY);
    const bottom = Math.floor((window.top + (1 + more) * window.height) / factorY);
    let nearestMm = Infinity;
    const farthest = Math.ceil(farthestMm / Math.min(this.#cellXMm, this.#cellYMm));
    for (let apart = 1; apart <= farthest; apart++) {
      if ((apart - 1) * Math.min(this.#cellXMm, this.#cellYMm) > nearestMm) break;
      const visit = (column: number, row: number): void => {
        if (!this.has(column, row)) return;
        const dx = Math.max(0, left - column - 1, column - right - 1) * this.#cellXMm;
        const dy = Math.max(0, top - row - 1, row - bottom - 1) * this.#cellYMm;
        nearestMm = Math.min(nearestMm, Math.hypot(dx, dy));
      };
      for (let column = left - apart; column <= right + apart; column++) {
        visit(column, top - apart);
        visit(column, bottom + apart);
      }
      for (let row = top - apart + 1; row < bottom + apart; row++) {
        visit(left - apart, row);
        visit(right + apart, row);
      }
    }
    return nearestMm === Infinity ? null : nearestMm;
  }

  /** On how many sides of a mark (left and right counted first) other ink stands within a share of the mark's size. */
  crowdedSides({ window }: ShapedMark, share: number): { readonly across: number; readonly down: number } {
    const { factorX, factorY } = this.#cells;
    const left = Math.floor(window.left / factorX);
    const right = Math.floor((window.left + window.width) / factorX);
    const top = Math.floor(window.top / factorY);
    const bottom = Math.floor((window.top + window.height) / factorY);
    const farX = Math.ceil((share * window.width) / factorX);
    const farY = Math.ceil((share * window.height) / factorY);
    const any = (l: number, t: number, r: number, b: number): number => {
      for (let row = t; row <= b; row++)
        for (let column = l; column <= r; column++) if (this.has(column, row)) return 1;
      return 0;
    };
    return {
      across: any(left - farX, top, left - 1, bottom) + any(right + 1, top, right + farX, bottom),
      down: any(left, top - farY, right, top - 1) + any(left, bottom + 1, right, bottom + farY),
    };
  }

  /** How many cells hold art. */
  count(): number {
    let count = 0;
    for (const word of this.#words) if (word !== 0) count += popcount(word);
    return count;
  }

  has(column: number, row: number): boolean {
    return bitAt({ ...this.#cells.inked, words: this.#words }, column, row) === 1;
  }

  #endsOf(row: number): { readonly first: number; readonly last: number } | null {
    const { wordsPerRow } = this.#cells.inked;
    const base = row * wordsPerRow;
    let from = 0;
    while (from < wordsPerRow && this.#words[base + from] === 0) from++;
    if (from === wordsPerRow) return null;
    let to = wordsPerRow - 1;
    while (this.#words[base + to] === 0) to--;
    const low = this.#words[base + from];
    return { first: 32 * from + 31 - Math.clz32(low & -low), last: 32 * to + 31 - Math.clz32(this.#words[base + to]) };
  }
}

function isBeyond(xMm: number, yMm: number, box: NonNullable<ReturnType<ArtCells['boxMm']>>): boolean {
  return xMm < box.leftMm || xMm >= box.rightMm || yMm < box.topMm || yMm >= box.bottomMm;
}

/** Corners of the hull, by the monotone chain (Andrew, Information Processing Letters 9, 1979). */
function convexHull(points: readonly PointMm[]): PointMm[] {
  const sorted = [...points].sort((a, b) => a.xMm - b.xMm || a.yMm - b.yMm);
  const half = (from: readonly PointMm[]): PointMm[] => {
    const chain: PointMm[] = [];
    for (const point of from) {
      while (chain.length >= 2 && turn(chain[chain.length - 2], chain[chain.length - 1], point) <= 0) chain.pop();
      chain.push(point);
    }
    chain.pop();
    return chain;
  };
  return sorted.length < 3 ? sorted : [...half(sorted), ...half(sorted.reverse())];
}

function turn(a: PointMm, b: PointMm, c: PointMm): number {
  return (b.xMm - a.xMm) * (c.yMm - a.yMm) - (b.yMm - a.yMm) * (c.xMm - a.xMm);
}
