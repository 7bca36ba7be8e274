import { describe, expect, it } from 'vitest';
import { cellsOf, coarserCells } from '../../src/measurements/marksCells.ts';
import { type BitPlane, bitAt, createBitPlane, setBit } from '../../src/raster/bitPlane.ts';
import { seededNumbers } from '../support/marksPlates.ts';

/** Ink by chance, more to the left than to the right, with a black field that whole words lie in. */
function speckled(widthPx: number, heightPx: number, seed: number): BitPlane {
  const next = seededNumbers(seed);
  const plane = createBitPlane(widthPx, heightPx);
  for (let row = 0; row < heightPx; row++) {
    for (let column = 0; column < widthPx; column++) {
      const isField = row > heightPx / 2 && column > widthPx / 3;
      if (isField ? next() < 0.9998 : next() < 0.02) setBit(plane, column, row);
    }
  }
  return plane;
}

/** Whether any pixel of a cell is inked (or clear), pixel by pixel. */
function anyIn(plane: BitPlane, column: number, row: number, factorX: number, factorY: number, wanted: 0 | 1): number {
  for (let r = row * factorY; r < Math.min(plane.heightPx, (row + 1) * factorY); r++) {
    for (let c = column * factorX; c < Math.min(plane.widthPx, (column + 1) * factorX); c++) {
      if (bitAt(plane, c, r) === wanted) return 1;
    }
  }
  return 0;
}

describe('cellsOf', () => {
  it('tells cells with ink and cells with clear film, pixel by pixel the same', () => {
    for (const [widthPx, heightPx, dpi] of [
      [131, 90, 300],
      [640, 300, 720],
      [257, 333, 1200],
      [1000, 700, 4000],
    ]) {
      const plane = speckled(widthPx, heightPx, widthPx + dpi);
      const grid = { widthPx, heightPx, pitchXMm: 25.4 / dpi, pitchYMm: 25.4 / dpi / 1.1 };
      for (const cells of [cellsOf(plane, grid), coarserCells(cellsOf(plane, grid))]) {
        const { factorX, factorY, inked, clear } = cells;
        expect(clear, 'there is a black field').not.toBeNull();
        for (let row = 0; row < inked.heightPx; row++) {
          for (let column = 0; column < inked.widthPx; column++) {
            expect(bitAt(inked, column, row)).toBe(anyIn(plane, column, row, factorX, factorY, 1));
            expect(bitAt(clear!, column, row)).toBe(anyIn(plane, column, row, factorX, factorY, 0));
          }
        }
      }
    }
  });

  it('leaves clear cells away where nothing is black', () => {
    const plane = createBitPlane(500, 400);
    setBit(plane, 200, 100);
    expect(cellsOf(plane, { widthPx: 500, heightPx: 400, pitchXMm: 0.05, pitchYMm: 0.05 }).clear).toBeNull();
  });
});
