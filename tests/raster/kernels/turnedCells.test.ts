import fc from 'fast-check';
import { expect, it } from 'vitest';
import { bitAt } from '../../../src/raster/bitPlane.ts';
import { kernels } from '../../../src/raster/kernels/kernelModule.ts';
import { TurnedCellsByKernel } from '../../../src/raster/kernels/turnedCellsByKernel.ts';
import { TurnedCellsPlain, type TurnedMap, turnedCells, turnedUnit } from '../../../src/raster/turnedCells.ts';
import { drawBlobs } from '../../support/drawBlobs.ts';

const strips = fc.record({
  seed: fc.nat(1e6),
  width: fc.integer({ min: 1, max: 300 }),
  height: fc.integer({ min: 1, max: 150 }),
  side: fc.constantFrom(1, 2, 4, 8, 16, 32),
  top: fc.nat(40),
  turn: fc.double({ min: 0, max: 2 * Math.PI, noNaN: true }),
  cellSamples: fc.double({ min: 2.5, max: 20, noNaN: true }),
  join: fc.integer({ min: 1, max: 3 }),
});

/** A map with room for so many cells both ways, from three ahead of where they begin. */
function emptyMap(join: number, cells: number): TurnedMap {
  const [columns, rows] = [Math.ceil(cells / join) + 2, Math.ceil(cells / join) + 3];
  const empty = () => new Float32Array(columns * rows);
  const first = Math.floor(-3 / join);
  const turns = { realU: empty(), imaginaryU: empty(), realV: empty(), imaginaryV: empty() };
  return { join, left: first, top: first, columns, rows, counts: empty(), ink: empty(), ...turns };
}

/** Both kinds of cells after the same strip of a plane was read and added to them. */
function bothOf({
  seed,
  width,
  height,
  side,
  top,
  turn,
  cellSamples,
  join,
}: typeof strips extends fc.Arbitrary<infer T> ? T : never) {
  const plane = drawBlobs(seed, width, height, 0.1);
  const perRow = (32 / side) * Math.ceil(width / 32);
  const rows = Math.ceil(height / side);
  const [cos, sin] = [Math.cos(turn) / cellSamples, Math.sin(turn) / cellSamples];
  const wide = Math.floor(width / side);
  const high = Math.max(0, Math.floor((height - top) / side));
  const units = (cells: number) => Math.round(cells * turnedUnit);
  const u = 1 + Math.max(0, -wide * cos) + Math.max(0, -high * sin);
  const v = 1 + Math.max(0, wide * sin) + Math.max(0, -high * cos);
  const columns = 3 + Math.ceil((wide + high) / cellSamples);
  const samples = {
    first: 0,
    wide,
    high,
    u: units(u),
    v: units(v),
    acrossU: units(cos),
    acrossV: units(-sin),
    downU: units(sin),
    downV: units(cos),
  };
  const maps = [emptyMap(join, columns), emptyMap(join, columns)];
  const made = [
    turnedCells(side, perRow, rows, columns * columns, maps[0]),
    new TurnedCellsPlain(side, perRow, rows, columns * columns, maps[1]),
  ];
  for (const cells of made) {
    cells.readSquares(plane, top, rows);
    cells.add(samples, columns);
  }
  return { made, maps, plane, perRow, samples, columns };
}

it('cells of a turned lattice hold the same by the kernels and by their twin', () => {
  expect(kernels()).not.toBeNull();
  fc.assert(
    fc.property(strips, (strip) => {
      const { made } = bothOf(strip);
      expect(made[0]).toBeInstanceOf(TurnedCellsByKernel);
      expect(made[0].samples).toEqual(made[1].samples);
      expect(made[0].sums).toEqual(made[1].sums);
    }),
    { numRuns: 150, seed: 51 },
  );
});

it('what they hold is added to a map of joined cells alike, all of it', () => {
  fc.assert(
    fc.property(strips, (strip) => {
      const { made, maps, samples, columns } = bothOf(strip);
      for (const [index, cells] of made.entries()) {
        cells.addToMap(-3, -2, columns, columns);
        cells.fillMap();
        expect(cells.sums.every((value) => value === 0)).toBe(true);
        expect(maps[index].counts.reduce((sum, count) => sum + count, 0)).toBe(samples.wide * samples.high);
      }
      expect(maps[0]).toEqual(maps[1]);
    }),
    { numRuns: 60, seed: 53 },
  );
});

it('each holds the samples that lie in it, and their turns', () => {
  fc.assert(
    fc.property(strips, (strip) => {
      const { made, plane, perRow, samples, columns } = bothOf(strip);
      let wrong = 0;
      const expected = new Float64Array(made[0].sums.length);
      for (let row = 0; row < samples.high; row++) {
        for (let column = 0; column < samples.wide; column++) {
          let black = 0;
          for (let r = 0; r < strip.side; r++) {
            for (let c = 0; c < strip.side; c++) {
              black += bitAt(plane, column * strip.side + c, strip.top + row * strip.side + r);
            }
          }
          const tone = black / strip.side ** 2;
          if (made[0].samples[row * perRow + column] !== tone) wrong++;
          const u = (samples.u + column * samples.acrossU + row * samples.downU) / turnedUnit;
          const v = (samples.v + column * samples.acrossV + row * samples.downV) / turnedUnit;
          const cell = 8 * (Math.floor(v) * columns + Math.floor(u));
          expected[cell] += tone * Math.cos(2 * Math.PI * u);
          expected[cell + 1] -= tone * Math.sin(2 * Math.PI * u);
          expected[cell + 2] += tone * Math.cos(2 * Math.PI * v);
          expected[cell + 3] -= tone * Math.sin(2 * Math.PI * v);
          expected[cell + 4]++;
          expected[cell + 5] += tone;
        }
      }
      // The turn is known to 1 in 1024.
      for (const [at, value] of expected.entries()) {
        const allowed = 1e-4 + 0.0065 * expected[at - (at % 8) + 5];
        if (Math.abs(made[0].sums[at] - value) > allowed) wrong++;
      }
      expect(wrong).toBe(0);
    }),
    { numRuns: 20, seed: 52 },
  );
});
