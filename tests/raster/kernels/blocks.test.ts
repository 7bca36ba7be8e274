import fc from 'fast-check';
import { expect, it } from 'vitest';
import { AlikeBlocksPlain, alikeBlocks } from '../../../src/raster/alikeBlocks.ts';
import { boxSums, boxSumsPlain } from '../../../src/raster/boxSums.ts';
import { AlikeBlocksByKernel } from '../../../src/raster/kernels/alikeBlocksByKernel.ts';
import { joinTiles, joinTilesPlain, tileShares, tileSharesPlain } from '../../../src/raster/tileShares.ts';
import { tilesOnCells, tilesOnCellsPlain } from '../../../src/raster/tilesOnCells.ts';
import { drawBlobs } from '../../support/drawBlobs.ts';
import { seededRandom } from '../../support/seededRandom.ts';

const likeness = { leastChanges: 0.02, within: 2, middleRank: 6 };

it('tiles hold the same by the kernels and by their twins', () => {
  const planes = fc
    .tuple(fc.nat(1e6), fc.integer({ min: 1, max: 400 }), fc.integer({ min: 1, max: 220 }))
    .map(([seed, width, height]) => drawBlobs(seed, width, height, 0.02));
  fc.assert(
    fc.property(planes, fc.constantFrom(32, 64, 96), (plane, sidePx) => {
      expect(tileShares(plane, sidePx)).toEqual(tileSharesPlain(plane, sidePx));
    }),
    { numRuns: 80, seed: 81 },
  );
});

it('tiles are joined alike', () => {
  fc.assert(
    fc.property(fc.nat(1e6), fc.nat(40), fc.nat(30), fc.integer({ min: 2, max: 20 }), (seed, wide, high, factor) => {
      const random = seededRandom(seed);
      const values = Float32Array.from({ length: (wide + 1) * (high + 1) }, random);
      const plain = joinTilesPlain(values, wide + 1, factor);
      const joined = joinTiles(values, wide + 1, factor);
      expect(joined.length).toBe(plain.length);
      for (const [at, value] of joined.entries()) expect(value).toBeCloseTo(plain[at], 5);
    }),
    { numRuns: 60, seed: 82 },
  );
});

it('blocks have the same ranks and order, but for those taken', () => {
  const cases = fc.record({
    seed: fc.nat(1e6),
    perRow: fc.integer({ min: 1, max: 30 }),
    rows: fc.integer({ min: 1, max: 30 }),
    factor: fc.constantFrom(1, 4),
    sidePx: fc.constantFrom(32, 128),
    takenShare: fc.constantFrom(0, 0.3),
  });
  fc.assert(
    fc.property(cases, ({ seed, perRow, rows, factor, sidePx, takenShare }) => {
      const random = seededRandom(seed);
      const values = (most: number) => Float32Array.from({ length: perRow * rows }, () => most * random());
      const tiles = { perRow, rows, sidePx, tones: values(1), across: values(0.06), down: values(0.05) };
      const takenPerRow = perRow * factor;
      const isTaken = Uint8Array.from({ length: takenPerRow * rows * factor }, () => Number(random() < takenShare));
      const taken = { tiles: isTaken, perRow: takenPerRow, factor };
      const fast = alikeBlocks(tiles, likeness);
      const plain = new AlikeBlocksPlain(tiles, likeness);
      expect(fast).toBeInstanceOf(AlikeBlocksByKernel);
      for (let rank = 1; rank <= 22; rank++) {
        expect(fast.keysOf(rank, taken).sort()).toEqual(plain.keysOf(rank, taken).sort());
        expect(fast.leastOf(rank, taken)).toEqual(plain.leastOf(rank, taken));
      }
    }),
    { numRuns: 80, seed: 83 },
  );
});

it('the middle of a field of one tint ranks highest, and its edge lower', () => {
  const [perRow, rows] = [8, 7];
  const field = (inside: number, outside: number) =>
    Float32Array.from({ length: perRow * rows }, (_, at) =>
      at % perRow < 6 && Math.floor(at / perRow) < 6 ? inside : outside,
    );
  const tiles = { perRow, rows, sidePx: 32, tones: field(0.5, 0), across: field(0.05, 0), down: field(0.05, 0) };
  const taken = { tiles: new Uint8Array(perRow * rows), perRow, factor: 1 };
  for (const blocks of [alikeBlocks(tiles, likeness), new AlikeBlocksPlain(tiles, likeness)]) {
    const tilesOf = (rank: number) => [...blocks.keysOf(rank, taken)].map((key) => key % (perRow * rows)).sort();
    const all = [9, 10, 11, 17, 18, 19, 25, 26, 27];
    expect(tilesOf(16 + 6)).toEqual(all.sort());
    // At the corners nine of sixteen tiles lie in the field.
    expect(tilesOf(9 + 6)).toEqual([0, 4, 32, 36].sort());
  }
});

it('squares of values are summed alike', () => {
  const size = fc.integer({ min: 1, max: 40 });
  fc.assert(
    fc.property(fc.nat(1e6), size, size, fc.integer({ min: 1, max: 6 }), (seed, columns, rows, reach) => {
      const random = seededRandom(seed);
      const values = Float32Array.from({ length: columns * rows }, random);
      const kept = Uint8Array.from(values, () => Math.round(random()));
      const empty = () => new Float32Array(values.length);
      for (const isKept of [null, kept]) {
        const once = boxSumsPlain(values, columns, rows, reach, empty(), isKept);
        expect(boxSums(values, columns, rows, reach, empty(), isKept)).toEqual(once);
        const twice = boxSumsPlain(once, columns, rows, reach, empty(), null);
        expect(boxSums(values, columns, rows, reach, empty(), isKept, 2)).toEqual(twice);
      }
    }),
    { numRuns: 60, seed: 84 },
  );
});

it('tiles are found on flagged cells alike', () => {
  const step = fc.double({ min: -3, max: 3, noNaN: true });
  const places = Float64Array.from([0.5, 0.5, 0.2, 0.8, 0.8, 0.2]);
  const cases = fc.record({ seed: fc.nat(1e6), acrossU: step, downU: step, atU: step, acrossV: step, downV: step });
  fc.assert(
    fc.property(cases, ({ seed, ...turns }) => {
      const random = seededRandom(seed);
      const [columns, rows] = [20, 15];
      const flags = Uint8Array.from({ length: columns * rows }, () => Number(random() < 0.3));
      const cells = { ...turns, atV: 10 * random(), left: -5, top: -4, columns, rows, flags };
      expect(tilesOnCells(cells, 17, 13, places)).toEqual(tilesOnCellsPlain(cells, 17, 13, places));
    }),
    { numRuns: 60, seed: 85 },
  );
});
