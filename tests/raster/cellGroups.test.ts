import { describe, expect, it } from 'vitest';
import { type BitPlane, bitAt, createBitPlane, setBit } from '../../src/raster/bitPlane.ts';
import { groupCells } from '../../src/raster/cellGroups.ts';
import { resampledPlane } from '../../src/raster/resampledPlane.ts';
import { seededNumbers } from '../support/marksPlates.ts';

function speckled(widthPx: number, heightPx: number, share: number, seed: number): BitPlane {
  const next = seededNumbers(seed);
  const plane = createBitPlane(widthPx, heightPx);
  for (let row = 0; row < heightPx; row++) {
    for (let column = 0; column < widthPx; column++) if (next() < share) setBit(plane, column, row);
  }
  // A part of whole words, which is dealt with word by word.
  for (let row = 0; row < heightPx / 3; row++) {
    for (let column = 32; column < Math.min(widthPx, 160); column++) setBit(plane, column, row);
  }
  return plane;
}

const sizes: [number, number][] = [
  [1, 1],
  [31, 7],
  [64, 64],
  [131, 50],
  [257, 33],
];

describe('resampledPlane', () => {
  it('takes the pixel each centre lies in', () => {
    for (const [width, height] of sizes) {
      const plane = speckled(width, height, 0.4, width * 3 + 1);
      const from = { widthPx: width, heightPx: height, pitchXMm: 0.1, pitchYMm: 0.13 };
      for (const [pitchXMm, pitchYMm] of [
        [0.1, 0.13],
        [0.04, 0.05],
        [0.17, 0.2],
      ]) {
        const to = {
          widthPx: Math.ceil((width * 0.1) / pitchXMm) + 3,
          heightPx: Math.ceil((height * 0.13) / pitchYMm) + 2,
          pitchXMm,
          pitchYMm,
        };
        const target = resampledPlane(plane, from, to);
        for (let row = 0; row < to.heightPx; row++) {
          for (let column = 0; column < to.widthPx; column++) {
            const sourceColumn = Math.floor((column + 0.5) * (pitchXMm / 0.1));
            const sourceRow = Math.floor(((row + 0.5) * pitchYMm) / 0.13);
            expect(bitAt(target, column, row)).toBe(bitAt(plane, sourceColumn, sourceRow));
          }
        }
      }
    }
  });
});

const anySize = { leastColumns: 0, leastRows: 0, mostColumns: Infinity, mostRows: Infinity };

describe('groupCells', () => {
  it('gives those of the size asked for, in the same order', () => {
    const plane = speckled(300, 200, 0.3, 17);
    const boxOf = (cells: Int32Array) => {
      const columns = Array.from(cells, (cell) => cell % 300);
      const rows = Array.from(cells, (cell) => Math.floor(cell / 300));
      const size = (values: number[]) => Math.max(...values) - Math.min(...values) + 1;
      return [size(columns), size(rows)];
    };
    const all = [...groupCells(plane, anySize)].map((cells) => [...cells]);
    const size = { leastColumns: 3, leastRows: 2, mostColumns: 9, mostRows: 7 };
    const wanted = all.filter((cells) => {
      const [columns, rows] = boxOf(Int32Array.from(cells));
      return columns >= 3 && columns <= 9 && rows >= 2 && rows <= 7;
    });
    expect(wanted.length).toBeGreaterThan(10);
    expect([...groupCells(plane, size)].map((cells) => [...cells])).toEqual(wanted);
  });

  it('gathers cells that touch, corners included, each once', () => {
    for (const [width, height] of sizes) {
      const plane = speckled(width, height, 0.15, width * 5 + height);
      const groupOf = new Int32Array(width * height).fill(-1);
      let groups = 0;
      for (const cells of groupCells(plane, anySize)) {
        for (const cell of cells) {
          expect(groupOf[cell]).toBe(-1);
          groupOf[cell] = groups;
        }
        groups++;
      }
      for (let row = 0; row < height; row++) {
        for (let column = 0; column < width; column++) {
          const own = groupOf[row * width + column];
          expect(own >= 0).toBe(bitAt(plane, column, row) === 1);
          for (const [dc, dr] of [
            [1, 0],
            [-1, 1],
            [0, 1],
            [1, 1],
          ]) {
            if (own < 0 || bitAt(plane, column + dc, row + dr) === 0) continue;
            expect(groupOf[(row + dr) * width + column + dc]).toBe(own);
          }
        }
      }
    }
  });
});
