import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type BitPlane, bitAt } from '../../src/raster/bitPlane.ts';
import { axesOf } from '../../src/raster/component.ts';
import { visitComponents } from '../../src/raster/components.ts';
import { readRuns } from '../../src/raster/runs.ts';
import { planeFromRows, planeFromText } from '../support/asciiPlane.ts';

interface Listed {
  areaPx: number;
  box: string;
  sums: string;
}

/** Flood fill, pixel by pixel. */
function partsSlowly(plane: BitPlane, value: 0 | 1, connectivity: 4 | 8): Listed[] {
  const seen = new Set<string>();
  const parts: Listed[] = [];
  for (let row = 0; row < plane.heightPx; row++) {
    for (let column = 0; column < plane.widthPx; column++) {
      if (bitAt(plane, column, row) !== value || seen.has(`${column},${row}`)) continue;
      const pixels: [number, number][] = [[column, row]];
      seen.add(`${column},${row}`);
      for (let k = 0; k < pixels.length; k++) {
        for (let dy = -1; dy <= 1; dy++) {
          for (let dx = -1; dx <= 1; dx++) {
            const [x, y] = [pixels[k][0] + dx, pixels[k][1] + dy];
            if (connectivity === 4 && dx !== 0 && dy !== 0) continue;
            if (x < 0 || y < 0 || x >= plane.widthPx || y >= plane.heightPx) continue;
            if (bitAt(plane, x, y) !== value || seen.has(`${x},${y}`)) continue;
            seen.add(`${x},${y}`);
            pixels.push([x, y]);
          }
        }
      }
      const xs = pixels.map(([x]) => x);
      const ys = pixels.map(([, y]) => y);
      const total = (f: (x: number, y: number) => number) =>
        pixels.reduce((sum, [x, y]) => sum + f(x - column, y - row), 0);
      parts.push({
        areaPx: pixels.length,
        box: [Math.min(...xs), Math.min(...ys), Math.max(...xs) + 1, Math.max(...ys) + 1].join(),
        sums: [
          total((x) => x),
          total((_, y) => y),
          total((x) => x * x),
          total((_, y) => y * y),
          total((x, y) => x * y),
        ].join(),
      });
    }
  }
  return parts;
}

function partsFast(plane: BitPlane, inverted: boolean, connectivity: 4 | 8): Listed[] {
  const parts: Listed[] = [];
  visitComponents(plane, { inverted, connectivity }, (part) => {
    parts.push({
      areaPx: part.areaPx,
      box: [part.left, part.top, part.right, part.bottom].join(),
      sums: [part.sumColumn, part.sumRow, part.sumColumnSquared, part.sumRowSquared, part.sumProduct].join(),
    });
  });
  return parts;
}

const inOrder = (parts: Listed[]) => parts.map((part) => JSON.stringify(part)).sort();

const randomRows = fc
  .tuple(fc.integer({ min: 1, max: 100 }), fc.integer({ min: 1, max: 40 }), fc.constantFrom(0.2, 0.5, 0.6, 0.8))
  .chain(([width, height, share]) =>
    fc.array(
      fc.array(
        fc.double({ min: 0, max: 1, noNaN: true }).map((value) => value < share),
        { minLength: width, maxLength: width },
      ),
      { minLength: height, maxLength: height },
    ),
  );

describe('connected parts', () => {
  it('equal a flood fill on random planes, both ways round and both neighbourhoods', () => {
    fc.assert(
      fc.property(randomRows, fc.boolean(), fc.constantFrom<4 | 8>(4, 8), (rows, inverted, connectivity) => {
        const plane = planeFromRows(rows);
        expect(inOrder(partsFast(plane, inverted, connectivity))).toEqual(
          inOrder(partsSlowly(plane, inverted ? 0 : 1, connectivity)),
        );
      }),
      { numRuns: 120, seed: 21 },
    );
  });

  it('a spiral is one part; a shape like a U is joined at its foot', () => {
    const spiral = planeFromText(`
      #########
      ........#
      #######.#
      #.....#.#
      #.###.#.#
      #.#...#.#
      #.#####.#
      #.......#
      #########
    `);
    expect(partsFast(spiral, false, 4).length).toBe(1);
    expect(partsFast(spiral, true, 4).length).toBe(1);
  });

  it('axes of a 12 by 3 bar', () => {
    const bar = planeFromText('############\n############\n############');
    visitComponents(bar, { inverted: false, connectivity: 8 }, (part) => {
      const axes = axesOf(part);
      expect(axes.longPx).toBeCloseTo(12, 9);
      expect(axes.shortPx).toBeCloseTo(3, 9);
      expect(axes.directionRad).toBeCloseTo(0, 9);
    });
  });
});

describe('runs of a row', () => {
  it('start and end where the pixels change', () => {
    fc.assert(
      fc.property(fc.array(fc.boolean(), { minLength: 1, maxLength: 140 }), fc.boolean(), (row, inverted) => {
        const plane = planeFromRows([row]);
        const into = new Int32Array(row.length + 1);
        const count = readRuns(plane, 0, inverted, into);
        const painted = row.map(() => inverted);
        for (let run = 0; run < count; run++) painted.fill(!inverted, into[2 * run], into[2 * run + 1]);
        expect(painted).toEqual(row);
        for (let k = 1; k < 2 * count; k++) expect(into[k]).toBeGreaterThan(into[k - 1]);
      }),
      { numRuns: 300, seed: 22 },
    );
  });
});
