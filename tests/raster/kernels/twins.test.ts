import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bitCount, countBitsPlain } from '../../../src/raster/bitCount.ts';
import { createBitPlane } from '../../../src/raster/bitPlane.ts';
import { cellCounts, countPlain } from '../../../src/raster/cellCounts.ts';
import { coarseCells, coarseCellsPlain } from '../../../src/raster/coarseCells.ts';
import type { Component } from '../../../src/raster/component.ts';
import { visitComponents } from '../../../src/raster/components.ts';
import { visitComponentsPlain } from '../../../src/raster/componentsPlain.ts';
import { discOfDiameter, discOfRadius } from '../../../src/raster/disc.ts';
import { countEdgesPlain, edgeCounts } from '../../../src/raster/edgeCounts.ts';
import { erodePlain } from '../../../src/raster/erodePlain.ts';
import { halvedPlane, halvePlain } from '../../../src/raster/halvedPlane.ts';
import { kernels } from '../../../src/raster/kernels/kernelModule.ts';
import { clearTails, dilatedByDisc, erodedByDisc } from '../../../src/raster/morphology.ts';
import { shapeWidths, widthsPlain } from '../../../src/raster/shapeWidths.ts';
import { visitThinned } from '../../../src/raster/thinning.ts';
import { thinPlain } from '../../../src/raster/thinPlain.ts';
import { drawBlobs } from '../../support/drawBlobs.ts';
import { seededRandom } from '../../support/seededRandom.ts';

const planes = fc
  .tuple(
    fc.nat(1e6),
    fc.integer({ min: 1, max: 400 }),
    fc.integer({ min: 1, max: 220 }),
    fc.constantFrom(0, 0.01, 0.1, 0.5),
  )
  .map(([seed, width, height, noise]) => drawBlobs(seed, width, height, noise));

describe('kernels and their twins', () => {
  it('the kernels are in use', () => {
    expect(kernels()).not.toBeNull();
  });

  it('erode alike', () => {
    const discs = fc.oneof(
      fc.integer({ min: 1, max: 70 }).map(discOfDiameter),
      fc
        .tuple(fc.double({ min: 0, max: 30, noNaN: true }), fc.constantFrom(1, 0.5, 2))
        .map((of) => discOfRadius(...of)),
    );
    fc.assert(
      fc.property(planes, discs, fc.boolean(), fc.boolean(), (plane, disc, opaque, inverted) => {
        const outside = opaque ? 'opaque' : 'clear';
        const eroded = erodedByDisc(plane, disc, outside, inverted);
        expect(eroded.words).toEqual(erodePlain(plane, disc, opaque !== inverted, inverted, false).words);
        const backOut = dilatedByDisc(eroded, disc);
        const mirrored = {
          topRow: -(disc.topRow + disc.left.length - 1),
          left: disc.right.map((column) => -column).reverse(),
          right: disc.left.map((column) => -column).reverse(),
        };
        expect(backOut.words).toEqual(erodePlain(eroded, mirrored, true, true, true).words);
      }),
      { numRuns: 150, seed: 41 },
    );
  });

  it('thin alike', () => {
    fc.assert(
      fc.property(
        planes,
        fc.boolean(),
        fc.boolean(),
        fc.option(fc.double({ min: 1, max: 20, noNaN: true })),
        fc.option(fc.nat(20)),
        (plane, inverted, opaque, radius, turns) => {
          const outside = opaque ? 'opaque' : 'clear';
          const kept = radius === null ? null : erodedByDisc(plane, discOfRadius(radius), outside, inverted);
          const fromRow = turns === null ? 0 : plane.heightPx >> 2;
          const options = { inverted, outside, kept, fromRow, mostTurns: turns ?? Infinity } as const;
          const fast: number[][] = [];
          const plain: number[][] = [];
          visitThinned(plane, options, (...told) => fast.push(told));
          thinPlain(plane, options, (...told) => plain.push(told));
          expect(fast).toEqual(plain);
        },
      ),
      { numRuns: 150, seed: 42 },
    );
  });

  it('thin rows of more than 64 times 128 pixels alike', () => {
    for (const widthPx of [8191, 8192, 8193, 16500]) {
      const plane = drawBlobs(widthPx, widthPx, 24, 0.05);
      for (const inverted of [false, true]) {
        const options = { inverted, outside: 'clear', kept: erodedByDisc(plane, discOfRadius(3)) } as const;
        const fast: number[][] = [];
        const plain: number[][] = [];
        visitThinned(plane, options, (...told) => fast.push(told));
        thinPlain(plane, options, (...told) => plain.push(told));
        expect(fast.length).toBeGreaterThan(widthPx / 64);
        expect(fast).toEqual(plain);
      }
    }
  });

  it('find the same parts in the same order', () => {
    fc.assert(
      fc.property(
        planes,
        fc.boolean(),
        fc.constantFrom(4, 8),
        fc.option(fc.integer({ min: 1, max: 60 })),
        fc.boolean(),
        (plane, inverted, connectivity, most, moments) => {
          const options = {
            inverted,
            moments,
            connectivity: connectivity as 4 | 8,
            ...(most === null ? {} : { mostColumns: most, mostRows: most / 2, mostAreaPx: most * 5 }),
          };
          const fast: Component[] = [];
          const plain: Component[] = [];
          visitComponents(plane, options, (part) => fast.push({ ...part }));
          visitComponentsPlain(plane, options, (part) => plain.push({ ...part }));
          expect(fast).toEqual(plain);
        },
      ),
      { numRuns: 150, seed: 43 },
    );
  });

  it('hand over every part of a plane that has more of them than there is room for at once', () => {
    const plane = createBitPlane(9000, 70);
    for (let row = 0; row < 70; row += 2)
      plane.words.fill(0x55555555, row * plane.wordsPerRow, (row + 1) * plane.wordsPerRow);
    clearTails(plane);
    let count = 0;
    visitComponents(plane, { inverted: false, connectivity: 8 }, () => count++);
    expect(count).toBe(35 * 4500);
  });

  it('find the same widths', () => {
    const pitches = fc.constantFrom(1, 0.5, 1.7);
    fc.assert(
      fc.property(planes, fc.boolean(), pitches, fc.constantFrom(1, 2), (plane, inverted, rowPitch, scale) => {
        const random = seededRandom(plane.widthPx);
        const place = (size: number) => Int32Array.from({ length: 200 }, () => Math.floor((random() * size) / scale));
        const points = { columns: place(plane.widthPx), rows: place(plane.heightPx), scale: scale as 1 | 2 };
        const limitPx = 1 + 40 * random();
        expect(shapeWidths(plane, inverted, rowPitch, points, limitPx)).toEqual(
          widthsPlain(plane, inverted, rowPitch, points, limitPx),
        );
      }),
      { numRuns: 150, seed: 44 },
    );
  });

  it('count the same pixels a cell', () => {
    fc.assert(
      fc.property(planes, fc.integer({ min: 1, max: 57 }), (plane, factor) => {
        expect(cellCounts(plane, factor)).toEqual(countPlain(plane, factor));
        expect(bitCount(plane.words)).toBe(countBitsPlain(plane.words));
      }),
      { numRuns: 150, seed: 45 },
    );
  });

  it('find the same coarse cells', () => {
    const sides = fc.oneof(fc.integer({ min: 1, max: 60 }), fc.constantFrom(114, 115, 200));
    fc.assert(
      fc.property(planes, sides, sides, (plane, factorX, factorY) => {
        expect(coarseCells(plane, factorX, factorY)).toEqual(coarseCellsPlain(plane, factorX, factorY));
      }),
      { numRuns: 150, seed: 50 },
    );
  });

  it('count the same edges a tile', () => {
    fc.assert(
      fc.property(planes, fc.constantFrom(32, 64, 128), (plane, sidePx) => {
        expect(edgeCounts(plane, sidePx)).toEqual(countEdgesPlain(plane, sidePx));
      }),
      { numRuns: 100, seed: 46 },
    );
  });

  it('find the same widths over several strips of rows', () => {
    const plane = drawBlobs(47, 150, 2300, 0.02);
    const random = seededRandom(48);
    const place = (size: number) => Int32Array.from({ length: 3000 }, () => Math.floor(random() * size));
    const points = { columns: place(plane.widthPx), rows: place(plane.heightPx), scale: 1 } as const;
    for (const rowPitch of [1, 0.5]) {
      expect(shapeWidths(plane, true, rowPitch, points, 40)).toEqual(widthsPlain(plane, true, rowPitch, points, 40));
    }
  });

  it('halve alike', () => {
    fc.assert(
      fc.property(planes, (plane) => {
        expect(halvedPlane(plane)).toEqual(halvePlain(plane));
      }),
      { numRuns: 100, seed: 49 },
    );
  });
});
