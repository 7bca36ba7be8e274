import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type BitPlane, bitAt, bitsAt } from '../../src/raster/bitPlane.ts';
import { visitComponents } from '../../src/raster/components.ts';
import { EdgeFinder } from '../../src/raster/edgeDistance.ts';
import { erasePart } from '../../src/raster/floodPart.ts';
import { halvedPlane } from '../../src/raster/halvedPlane.ts';
import { endKinds, followLines } from '../../src/raster/lineChains.ts';
import { SparseBits } from '../../src/raster/sparseBits.ts';
import { type TonePlane, tileSidePx, toneAt } from '../../src/raster/tonePlane.ts';
import { readToneWindow } from '../../src/raster/toneWindow.ts';
import { readWindow } from '../../src/raster/window.ts';
import { planeFromRows, planeFromText, textFromPlane } from '../support/asciiPlane.ts';
import { seededRandom } from '../support/seededRandom.ts';

const planes = fc
  .tuple(fc.integer({ min: 1, max: 110 }), fc.integer({ min: 1, max: 30 }), fc.constantFrom(0.1, 0.5, 0.9), fc.nat())
  .map(([width, height, share, seed]) => {
    const random = seededRandom(seed);
    return planeFromRows(Array.from({ length: height }, () => Array.from({ length: width }, () => random() < share)));
  });

it('bits read together are the bits read one by one', () => {
  fc.assert(
    fc.property(planes, fc.nat(140), fc.integer({ min: 1, max: 32 }), (plane, column, count) => {
      const row = plane.heightPx - 1;
      let expected = 0;
      for (let k = 0; k < count; k++) expected |= bitAt(plane, column + k, row) << k;
      expect(bitsAt(plane, column, row, count) | 0).toBe(expected | 0);
    }),
  );
});

describe('nearest edge', () => {
  it('equals a look at every pixel off the shape, both ways round, on unequal pixels too', () => {
    fc.assert(
      fc.property(planes, fc.boolean(), fc.constantFrom(1, 2, 0.5), fc.nat(), (plane, inverted, rowPitch, pick) => {
        const finder = new EdgeFinder(plane, inverted, rowPitch);
        const column = pick % plane.widthPx;
        const row = Math.floor(pick / plane.widthPx) % plane.heightPx;
        const limit = 12;
        let expected = Infinity;
        for (let r = row - 30; r <= row + 30; r++) {
          for (let c = column - 14; c <= column + 14; c++) {
            const isBeyond = c < 0 || r < 0 || c >= plane.widthPx || r >= plane.heightPx;
            const isOn = isBeyond ? inverted : (bitAt(plane, c, r) === 1) !== inverted;
            expect(finder.holds(c, r)).toBe(isOn);
            const distance = Math.hypot(c - column, (r - row) * rowPitch);
            if (!isOn && distance < limit) expected = Math.min(expected, distance);
          }
        }
        const found = finder.nearest(column, row, limit);
        if (expected === Infinity) expect(found).toBe(Infinity);
        else {
          expect(found).toBeCloseTo(expected, 9);
          expect(finder.holds(column + finder.offsetColumn, row + finder.offsetRow)).toBe(false);
        }
      }),
      { numRuns: 200, seed: 91 },
    );
  });

  it('a bar of n rows is n wide from any of its middle pixels', () => {
    for (const rows of [1, 2, 3, 5, 8, 13]) {
      const plane = planeFromRows(
        Array.from({ length: 30 }, (_, row) => new Array<boolean>(90).fill(row >= 10 && row < 10 + rows)),
      );
      const finder = new EdgeFinder(plane, false);
      expect(finder.widthAcross(45, 10 + Math.floor(rows / 2), 40), `${rows} rows`).toBeCloseTo(rows, 9);
    }
  });
});

describe('halving', () => {
  it('keeps a pixel where any of the four is opaque', () => {
    fc.assert(
      fc.property(planes, (plane) => {
        const half = halvedPlane(plane);
        expect([half.widthPx, half.heightPx]).toEqual([Math.ceil(plane.widthPx / 2), Math.ceil(plane.heightPx / 2)]);
        for (let row = 0; row < half.heightPx; row++) {
          for (let column = 0; column < half.widthPx; column++) {
            const any = [0, 1].some((r) => [0, 1].some((c) => bitAt(plane, 2 * column + c, 2 * row + r) === 1));
            expect(bitAt(half, column, row)).toBe(any ? 1 : 0);
          }
        }
      }),
      { numRuns: 60, seed: 92 },
    );
  });
});

describe('erasing a part', () => {
  it('takes away one part and nothing else', () => {
    fc.assert(
      fc.property(planes, fc.boolean(), (plane, inverted) => {
        const parts: [number, number, number][] = [];
        const options = { inverted, connectivity: inverted ? 4 : 8 } as const;
        visitComponents(plane, options, (part) => {
          parts.push([part.firstColumn, part.top, part.areaPx]);
        });
        fc.pre(parts.length > 0);
        const before = readWindow(plane, 0, 0, plane.widthPx, plane.heightPx);
        const [column, row, areaPx] = parts[parts.length >> 1];
        erasePart(plane, column, row, inverted);
        const after = readWindow(plane, 0, 0, plane.widthPx, plane.heightPx);
        expect(before.filter((value, at) => value !== after[at]).length).toBe(areaPx);
        let left = 0;
        visitComponents(plane, { inverted, connectivity: inverted ? 4 : 8 }, () => left++);
        expect(left).toBe(parts.length - 1);
      }),
      { numRuns: 80, seed: 93 },
    );
  });
});

function sparseOf(plane: BitPlane): SparseBits {
  const sparse = new SparseBits(plane.widthPx, plane.heightPx);
  for (let index = 0; index < plane.words.length; index++) {
    const row = Math.floor(index / plane.wordsPerRow);
    sparse.addWord(row, index - row * plane.wordsPerRow, plane.words[index]);
  }
  return sparse;
}

const linesOf = (text: string) => sparseOf(planeFromText(text));

describe('sparse bits', () => {
  it('are the bits put in, told in reading order, less those cleared on the way', () => {
    fc.assert(
      fc.property(planes, (plane) => {
        const sparse = sparseOf(plane);
        const told: string[] = [];
        sparse.eachPixel((column, row) => {
          told.push(`${column},${row}`);
          sparse.clear(column, row);
          if (column + 2 < plane.widthPx) sparse.clear(column + 2, row);
        });
        const expected: string[] = [];
        for (let row = 0; row < plane.heightPx; row++) {
          const gone = new Set<number>();
          for (let column = 0; column < plane.widthPx; column++) {
            if (bitAt(plane, column, row) === 0 || gone.has(column)) continue;
            expected.push(`${column},${row}`);
            gone.add(column + 2);
          }
        }
        expect(told).toEqual(expected);
        expect([sparse.at(-1, 0), sparse.at(plane.widthPx, 0), sparse.at(0, plane.heightPx)]).toEqual([0, 0, 0]);
      }),
      { numRuns: 60, seed: 96 },
    );
  });
});

describe('lines followed', () => {
  it('a cross is four chains at one node, a ring one closed chain, an arm ends at its body', () => {
    const cross = followLines(
      linesOf(`
        .....#.....
        .....#.....
        .....#.....
        .....#.....
        ###########
        .....#.....
        .....#.....
        .....#.....
        .....#.....
      `),
      () => false,
    );
    expect(cross.count).toBe(4);
    expect([...cross.nodeColumns, ...cross.nodeRows]).toEqual([5, 4]);
    expect([...cross.endKind].sort()).toEqual([0, 0, 0, 0, 2, 2, 2, 2]);
    const ring = followLines(
      linesOf(`
        ..###..
        .#...#.
        #.....#
        .#...#.
        ..###..
      `),
      () => false,
    );
    expect([ring.count, ring.closed[0], ring.columns.length]).toEqual([1, 1, 12]);
    const arm = followLines(linesOf('######'), (column) => column < 0);
    expect(new Set(arm.endKind)).toEqual(new Set([endKinds.free, endKinds.body]));
    expect([...arm.columns].sort()).toEqual([0, 1, 2, 3, 4, 5]);
  });

  it('every pixel of the lines is in one chain or at a node', () => {
    fc.assert(
      fc.property(planes, (plane) => {
        const lines = textFromPlane(plane).replace(/[^#]/g, '').length;
        const sparse = sparseOf(plane);
        const chains = followLines(sparse, () => false);
        const pixels = new Set(Array.from(chains.columns, (column, k) => `${column},${chains.rows[k]}`));
        expect(pixels.size).toBe(chains.columns.length);
        expect(chains.columns.length).toBeLessThanOrEqual(lines);
        let left = 0;
        sparse.eachPixel(() => left++);
        expect(left).toBe(0);
      }),
      { numRuns: 60, seed: 94 },
    );
  });
});

describe('window of tones', () => {
  it('equals the tones asked one by one, over flat and full tiles and beyond the plane', () => {
    const random = seededRandom(95);
    const [tilesPerRow, tileRows] = [3, 2];
    const flatTones = Int16Array.from([0, -1, 255, -1, 77, 0]);
    const tiles = new Map(
      [1, 3].map((index) => [index, Uint8Array.from({ length: tileSidePx ** 2 }, () => 256 * random())] as const),
    );
    const plane: TonePlane = { widthPx: 300, heightPx: 200, tilesPerRow, tileRows, flatTones, tiles };
    for (const [left, top, width, height] of [
      [-5, -3, 140, 140],
      [120, 90, 60, 60],
      [250, 150, 90, 80],
    ]) {
      const into = new Uint8Array(width * height);
      readToneWindow(plane, left, top, width, height, into);
      for (let row = 0; row < height; row += 7) {
        for (let column = 0; column < width; column++) {
          expect(into[row * width + column]).toBe(toneAt(plane, left + column, top + row));
        }
      }
    }
  });
});
