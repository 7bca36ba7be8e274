import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type BitPlane, bitAt, createBitPlane } from '../../src/raster/bitPlane.ts';
import { visitComponents } from '../../src/raster/components.ts';
import { discOfRadius } from '../../src/raster/disc.ts';
import { squaredDistances } from '../../src/raster/distanceMap.ts';
import { erodedByDisc } from '../../src/raster/morphology.ts';
import { type ThinningOptions, visitThinned } from '../../src/raster/thinning.ts';
import { readWindow } from '../../src/raster/window.ts';
import { planeFromRows, planeFromText, textFromPlane } from '../support/asciiPlane.ts';

/** The published rules, pixel by pixel on an array with a border. */
function thinnedSlowly(plane: BitPlane, kept: BitPlane, beyond = false): string {
  const width = plane.widthPx + 2;
  const height = plane.heightPx + 2;
  const pixels = readWindow(plane, -1, -1, width, height);
  const stays = readWindow(kept, -1, -1, width, height);
  if (beyond) {
    for (let at = 0; at < pixels.length; at++) {
      const isBorder = at < width || at >= pixels.length - width || at % width === 0 || at % width === width - 1;
      if (isBorder) [pixels[at], stays[at]] = [1, 1];
    }
  }
  const around = (at: number) =>
    [-width, -width + 1, 1, width + 1, width, width - 1, -1, -width - 1].map((step) => pixels[at + step]);
  const pinholes = [...pixels.keys()].filter(
    (at) => at > width && at < pixels.length - width && pixels[at] === 0 && around(at).every((value) => value === 1),
  );
  for (const at of pinholes) if (stays[at + 1] === 0) pixels[at + 1] = 0;
  for (let turn = 0, quiet = 0; quiet < 2; turn++) {
    const gone: number[] = [];
    for (let row = 1; row < height - 1; row++) {
      for (let column = 1; column < width - 1; column++) {
        const at = row * width + column;
        if (pixels[at] === 0 || stays[at] === 1) continue;
        const [p2, p3, p4, p5, p6, p7, p8, p9] = around(at);
        const crossings = (1 - p2) * (p3 | p4) + (1 - p4) * (p5 | p6) + (1 - p6) * (p7 | p8) + (1 - p8) * (p9 | p2);
        const pairs = Math.min(
          (p9 | p2) + (p3 | p4) + (p5 | p6) + (p7 | p8),
          (p2 | p3) + (p4 | p5) + (p6 | p7) + (p8 | p9),
        );
        const side = turn % 2 === 0 ? (p6 | p7 | (1 - p9)) & p8 : (p2 | p3 | (1 - p5)) & p4;
        if (crossings === 1 && pairs >= 2 && pairs <= 3 && side === 0) gone.push(at);
      }
    }
    for (const at of gone) pixels[at] = 0;
    quiet = gone.length === 0 ? quiet + 1 : 0;
  }
  const rows = Array.from({ length: plane.heightPx }, (_, row) =>
    Array.from({ length: plane.widthPx }, (_, column) => {
      const at = (row + 1) * width + column + 1;
      return pixels[at] & (1 - stays[at]);
    }),
  );
  return textFromPlane(planeFromRows(rows));
}

const blobs = fc
  .tuple(
    fc.integer({ min: 3, max: 90 }),
    fc.integer({ min: 3, max: 50 }),
    fc.array(fc.tuple(fc.nat(90), fc.nat(50), fc.integer({ min: 1, max: 14 })), { minLength: 1, maxLength: 9 }),
  )
  .map(([width, height, discs]) =>
    planeFromRows(
      Array.from({ length: height }, (_, y) =>
        Array.from({ length: width }, (_, x) => discs.some(([cx, cy, r]) => (x - cx) ** 2 + (y - cy) ** 2 <= r * r)),
      ),
    ),
  );

function thinnedLines(plane: BitPlane, options: ThinningOptions): BitPlane {
  const lines = createBitPlane(plane.widthPx, plane.heightPx);
  visitThinned(plane, options, (row, word, bits) => {
    lines.words[row * lines.wordsPerRow + word] = bits;
  });
  return lines;
}

function partCount(plane: BitPlane): number {
  let count = 0;
  visitComponents(plane, { inverted: false, connectivity: 8 }, () => count++);
  return count;
}

describe('thinning', () => {
  it('equals the published rules applied pixel by pixel, with pixels kept or not', () => {
    fc.assert(
      fc.property(blobs, fc.double({ min: 1, max: 20, noNaN: true }), (plane, radius) => {
        const kept = erodedByDisc(plane, discOfRadius(radius));
        expect(textFromPlane(thinnedLines(plane, { inverted: false, kept }))).toBe(thinnedSlowly(plane, kept));
      }),
      { numRuns: 100, seed: 31 },
    );
  });

  it('equals them on shapes many words long and thick', () => {
    for (const height of [5, 6, 40, 71]) {
      const plane = planeFromRows(
        Array.from({ length: 80 }, (_, y) =>
          Array.from({ length: 300 }, (_, x) => y >= 4 && y < 4 + height && x >= 30 && x < 270 && (x < 150 || y < 60)),
        ),
      );
      const kept = erodedByDisc(plane, discOfRadius(25));
      expect(textFromPlane(thinnedLines(plane, { inverted: false, kept }))).toBe(thinnedSlowly(plane, kept));
    }
  });

  it('peels a single pixel hole like any other', () => {
    const rows = Array.from({ length: 40 }, () => new Array<boolean>(70).fill(true));
    for (const [column, row] of [
      [20, 20],
      [31, 12],
      [63, 25],
    ]) {
      rows[row][column] = false;
    }
    const plane = planeFromRows(rows);
    const kept = erodedByDisc(plane, discOfRadius(4));
    const lines = textFromPlane(thinnedLines(plane, { inverted: false, kept, outside: 'opaque' }));
    expect(lines).toBe(thinnedSlowly(plane, kept, true));
    // Of the 37 pixels around each no more than a stub may stay.
    expect(lines.replace(/[^#]/g, '').length).toBeLessThan(7);
  });

  it('widens single pixel holes side by side alike, wherever words begin', () => {
    for (const column of [20, 29, 30, 31, 32, 61, 62, 63, 64]) {
      const rows = Array.from({ length: 30 }, () => new Array<boolean>(100).fill(true));
      for (const [right, row] of [
        [0, 9],
        [2, 9],
        [0, 20],
        [2, 21],
      ]) {
        rows[row][column + right] = false;
      }
      const plane = planeFromRows(rows);
      const kept = erodedByDisc(plane, discOfRadius(5));
      const options = { inverted: false, kept, outside: 'opaque' } as const;
      expect(textFromPlane(thinnedLines(plane, options)), `column ${column}`).toBe(thinnedSlowly(plane, kept, true));
    }
  });

  it('leaves as many parts as the shape had', () => {
    fc.assert(
      fc.property(blobs, (plane) => {
        expect(partCount(thinnedLines(plane, { inverted: false, kept: null }))).toBe(partCount(plane));
      }),
      { numRuns: 60, seed: 32 },
    );
  });

  it('a bar becomes its middle line; a strip of film open to the edge leaves nothing behind when it is kept outside', () => {
    const bar = planeFromText(`
      .............
      .###########.
      .###########.
      .###########.
      .............
    `);
    const lines = textFromPlane(thinnedLines(bar, { inverted: false, kept: null })).split('\n');
    expect(lines[2]).toMatch(/^\.{1,3}#{7,11}\.{1,3}$/);
    expect([lines[0], lines[1], lines[3], lines[4]].join('')).not.toContain('#');
    expect(textFromPlane(thinnedLines(bar, { inverted: true, kept: null }))).not.toContain('#');
  });
});

describe('distance map', () => {
  it('equals the nearest of all clear pixels', () => {
    fc.assert(
      fc.property(blobs, fc.constantFrom(1, 0.5, 2), (plane, rowPitch) => {
        const { widthPx, heightPx } = plane;
        const map = squaredDistances(readWindow(plane, 0, 0, widthPx, heightPx), widthPx, heightPx, rowPitch);
        for (let k = 0; k < 12; k++) {
          const [x, y] = [(k * 7) % widthPx, (k * 5) % heightPx];
          let nearest = Infinity;
          for (let row = 0; row < heightPx; row++) {
            for (let column = 0; column < widthPx; column++) {
              if (bitAt(plane, column, row)) continue;
              nearest = Math.min(nearest, (column - x) ** 2 + ((row - y) * rowPitch) ** 2);
            }
          }
          expect(map[y * widthPx + x]).toBeCloseTo(nearest, 6);
        }
      }),
      { numRuns: 60, seed: 33 },
    );
  });
});
