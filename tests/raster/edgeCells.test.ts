import { describe, expect, it } from 'vitest';
import { type BitPlane, bitAt, createBitPlane, setBit } from '../../src/raster/bitPlane.ts';
import { findEdgeCells } from '../../src/raster/edgeCells.ts';
import { edgedPlane } from '../../src/raster/griddedPlane.ts';
import { Layout } from '../../src/raster/kernels/kernelModule.ts';
import { outlineKernels } from '../../src/raster/kernels/outlineModule.ts';
import { edgeCellsPlain, widenedCells } from '../../src/raster/outlines/edgeCellsPlain.ts';
import { pairOfPlanes } from '../../src/raster/pairOfPlanes.ts';
import type { PixelGrid } from '../../src/raster/pixelGrid.ts';

import { seededRandom } from '../support/seededRandom.ts';

const sizes = [
  [1, 1],
  [64, 16],
  [65, 17],
  [200, 41],
  [256, 8],
  [70, 1100],
  [519, 70],
] as const;

/** Blocks and single pixels, so that there are calm parts and edges on every kind of border. */
function scattered(widthPx: number, heightPx: number, seed: number): BitPlane {
  const random = seededRandom(seed);
  const plane = createBitPlane(widthPx, heightPx);
  for (let block = 0; block < 6; block++) {
    const left = Math.floor(random() * widthPx) & ~7;
    const top = Math.floor(random() * heightPx) & ~7;
    for (let row = top; row < Math.min(heightPx, top + 24); row++) {
      for (let column = left; column < Math.min(widthPx, left + 72); column++) setBit(plane, column, row);
    }
  }
  for (let dot = 0; dot < 3; dot++) setBit(plane, Math.floor(random() * widthPx), Math.floor(random() * heightPx));
  return plane;
}

/** By a look at every pixel: whether one in the cell differs from a neighbour, beyond the film being clear. */
function hasEdge(plane: BitPlane, cellColumn: number, cellRow: number, cellPx: number): boolean {
  for (let row = cellRow * cellPx; row < Math.min(plane.heightPx, (cellRow + 1) * cellPx); row++) {
    for (let column = cellColumn * cellPx; column < Math.min(plane.widthPx, (cellColumn + 1) * cellPx); column++) {
      for (const [dx, dy] of [
        [1, 0],
        [-1, 0],
        [0, 1],
        [0, -1],
      ]) {
        if (bitAt(plane, column, row) !== bitAt(plane, column + dx, row + dy)) return true;
      }
    }
  }
  return false;
}

function gridOfPlane({ widthPx, heightPx }: BitPlane): PixelGrid {
  return { widthPx, heightPx, pitchXMm: 0.05, pitchYMm: 0.04 };
}

/** By the kernel, as for the cells near an edge. */
function widened({ widthPx, heightPx, wordsPerRow, words }: BitPlane, reach: number): BitPlane {
  const kernels = outlineKernels()!;
  const layout = new Layout(kernels);
  const [source, target, scratch] = [0, 1, 2].map(() => layout.take(4 * words.length));
  new Uint32Array(kernels.memory.buffer, source, words.length).set(words);
  kernels.widenCells(source, wordsPerRow, heightPx, reach, target, scratch);
  return {
    widthPx,
    heightPx,
    wordsPerRow,
    words: new Uint32Array(kernels.memory.buffer, target, words.length).slice(),
  };
}

describe('edge cells', () => {
  it('are those a look at every pixel finds, also by tiles', () => {
    for (const [widthPx, heightPx] of sizes) {
      for (const seed of [1, 2, 3]) {
        const plane = scattered(widthPx, heightPx, seed);
        const cells = findEdgeCells(plane);
        expect(edgeCellsPlain(plane)).toEqual(cells);
        for (let row = 0; row < cells.heightPx; row++) {
          for (let column = 0; column < cells.widthPx; column++) {
            const label = `${widthPx} x ${heightPx}, seed ${seed}, cell ${column}, ${row}`;
            expect(bitAt(cells, column, row) === 1, label).toBe(hasEdge(plane, column, row, 8));
          }
        }
        const edged = edgedPlane({ grid: gridOfPlane(plane), bits: plane });
        pairOfPlanes(edged, edged)
          .edgeTiles()
          .forEach((flag, index) => {
            const column = index % plane.wordsPerRow;
            expect(flag === 1).toBe(hasEdge(plane, column, (index - column) / plane.wordsPerRow, 32));
          });
      }
    }
  });

  it('are widened by so many cells each way', () => {
    for (const [widthPx, heightPx] of sizes) {
      const cells = findEdgeCells(scattered(widthPx, heightPx, 4));
      for (const reach of [0, 1, 3, 40]) {
        const wide = widened(cells, reach);
        const plain = widenedCells(cells, reach);
        for (let row = 0; row < cells.heightPx; row++) {
          for (let column = 0; column < cells.widthPx; column++) {
            let isNear = false;
            for (let r = row - reach; r <= row + reach; r++) {
              for (let c = column - reach; c <= column + reach; c++) isNear ||= bitAt(cells, c, r) === 1;
            }
            for (const found of [wide, plain]) {
              expect(bitAt(found, column, row) === 1, `${widthPx} x ${heightPx}, reach ${reach}`).toBe(isNear);
            }
          }
        }
      }
    }
  });

  it('lie within reach where a tile no further off has one too', () => {
    const [own, other] = [5, 6].map((seed) => {
      const bits = scattered(519, 300, seed);
      return edgedPlane({ grid: gridOfPlane(bits), bits });
    });
    const flags = [own, other].map((plane) => pairOfPlanes(plane, plane).edgeTiles());
    const tilesPerRow = own.bits.wordsPerRow;
    for (const reachMm of [1, 3.3]) {
      const near = pairOfPlanes(own, other).nearTiles(reachMm);
      const across = Math.ceil((reachMm / 0.05 + 1) / 32);
      const down = Math.ceil((reachMm / 0.04 + 1) / 32);
      near.forEach((flag, index) => {
        const column = index % tilesPerRow;
        const row = (index - column) / tilesPerRow;
        const isNear = flags[1].some((marked, at) => {
          const c = at % tilesPerRow;
          return marked === 1 && Math.abs(c - column) <= across && Math.abs((at - c) / tilesPerRow - row) <= down;
        });
        expect(flag === 1).toBe(isNear && flags[0][index] === 1);
      });
      expect(near.includes(1)).toBe(true);
    }
  });
});
