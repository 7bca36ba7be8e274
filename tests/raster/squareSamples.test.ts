import { expect, it } from 'vitest';
import { bitAt, createBitPlane, setBit } from '../../src/raster/bitPlane.ts';
import { readSquares } from '../../src/raster/squareSamples.ts';
import { seededRandom } from '../support/seededRandom.ts';

it('means of squares are those of their pixels counted one by one, clear beyond the plane', () => {
  const random = seededRandom(5);
  const plane = createBitPlane(150, 97);
  for (let row = 0; row < 97; row++)
    for (let column = 0; column < 150; column++) if (random() < 0.4) setBit(plane, column, row);
  for (const [left, top, factor] of [
    [10, 7, 1],
    [-13, -9, 1],
    [101, 60, 1],
    [32, 0, 1],
    [-20, -5, 3],
    [90, 40, 7],
  ]) {
    const side = 64;
    const into = new Float32Array(side * side).fill(9);
    readSquares({ bits: plane, tone: null }, left, top, factor, side, into);
    for (let row = 0; row < side; row++) {
      for (let column = 0; column < side; column++) {
        let black = 0;
        for (let r = top + row * factor; r < top + (row + 1) * factor; r++)
          for (let c = left + column * factor; c < left + (column + 1) * factor; c++)
            if (c >= 0 && r >= 0 && c < 150 && r < 97) black += bitAt(plane, c, r);
        expect(into[column * side + row]).toBeCloseTo(black / factor ** 2, 6);
      }
    }
  }
});
