import { describe, expect, it } from 'vitest';
import { measureOverlap } from '../../src/measurements/measureOverlap.ts';
import type { Overlap } from '../../src/measurements/overlap.ts';
import {
  both,
  circle,
  drawPlate,
  either,
  gridOf,
  grownBy,
  moved,
  outside,
  rectangle,
  type Shape,
  sector,
} from '../support/overlapPlates.ts';

const trapsPx = [-6, -3, -1, 0, 1, 2.5, 4, 6, 8.5];

/** Two shapes that meet along an outline with a trap (or gap) of so many pixels, half of it on either side. */
function meetAlong(outline: Shape, trapPx: number, dpi: number, sideMm = 16): [Overlap, number] {
  const grid = gridOf(sideMm, sideMm, dpi);
  const trapMm = trapPx * grid.pitchXMm;
  const a = drawPlate('a', grid, grownBy(outline, trapMm / 2));
  const b = drawPlate('b', grid, outside(grownBy(outline, -trapMm / 2)));
  return [measureOverlap(a, b, { searchToMm: 1 })!, grid.pitchXMm];
}

function expectTrap(overlap: Overlap, trapPx: number, pitchMm: number, lengthMm: number, where: string): void {
  const label = `${where}, trap ${trapPx} px`;
  if (trapPx > 0) {
    expect(Math.abs(overlap.minOverlapMm! / pitchMm - trapPx), label).toBeLessThan(1);
    expect(Math.abs(overlap.maxOverlapMm! / pitchMm - trapPx), label).toBeLessThan(1);
    expect(Math.abs(overlap.medianOverlapMm! / pitchMm - trapPx), label).toBeLessThan(0.6);
    expect(overlap.maxGapMm, label).toBeNull();
    expect(overlap.buttedLengthMm, label).toBe(0);
    expect(Math.abs(overlap.touchingLengthMm / lengthMm - 1), label).toBeLessThan(0.03);
  } else if (trapPx === 0) {
    expect(overlap.minOverlapMm, label).toBeNull();
    expect(overlap.maxGapMm, label).toBeNull();
    expect(Math.abs(overlap.buttedLengthMm / lengthMm - 1), label).toBeLessThan(0.03);
  } else {
    expect(Math.abs(overlap.maxGapMm! / pitchMm + trapPx), label).toBeLessThan(1);
    for (const gap of overlap.gaps) expect(Math.abs(gap.overlapMm / pitchMm - trapPx), label).toBeLessThan(1);
    expect(overlap.minOverlapMm, label).toBeNull();
    expect(overlap.buttedLengthMm, label).toBe(0);
    expect(Math.abs(overlap.gapLengthMm / lengthMm - 1), label).toBeLessThan(0.03);
  }
}

describe('measureOverlap on drawn traps', () => {
  for (const dpi of [600, 720, 1200]) {
    it(`reads circles within a pixel at ${dpi} dpi`, () => {
      for (const trapPx of trapsPx) {
        for (const radiusMm of [1.5, 5.03]) {
          const [overlap, pitchMm] = meetAlong(circle(8.013, 7.991, radiusMm), trapPx, dpi);
          expectTrap(overlap, trapPx, pitchMm, 2 * Math.PI * radiusMm, `circle of ${radiusMm} mm`);
        }
      }
    });

    it(`reads turned squares within a pixel at ${dpi} dpi`, () => {
      for (const trapPx of trapsPx) {
        for (const turnDeg of [0, 2, 11.3, 26.6, 37, 45]) {
          const [overlap, pitchMm] = meetAlong(rectangle(8.007, 8.02, 8.1, 6.3, turnDeg), trapPx, dpi);
          expectTrap(overlap, trapPx, pitchMm, 2 * (8.1 + 6.3), `rectangle at ${turnDeg} deg`);
        }
      }
    });
  }

  it('reads shapes too small to have sides between their corners', () => {
    for (const dpi of [600, 720]) {
      for (const outline of [
        circle(3.02, 2.97, 0.3),
        circle(3.02, 2.97, 0.5),
        rectangle(3, 3.01, 0.7, 0.9, 20),
        rectangle(3.01, 3, 0.8, 0.8),
      ]) {
        for (const trapPx of [-4, 0, 3]) {
          const [overlap, pitchMm] = meetAlong(outline, trapPx, dpi, 6);
          if (trapPx === 0) {
            expect(overlap.buttedLengthMm).toBeGreaterThan(1);
            expect(overlap.minOverlapMm).toBeNull();
            expect(overlap.maxGapMm).toBeNull();
          } else {
            const readMm = trapPx > 0 ? overlap.minOverlapMm! : -overlap.maxGapMm!;
            expect(Math.abs(readMm / pitchMm - trapPx)).toBeLessThan(1);
          }
        }
      }
    }
  });

  it('reads a wavy edge', () => {
    const rose: Shape = (x, y) => {
      const angle = Math.atan2(y - 8, x - 8);
      return (Math.hypot(x - 8, y - 8) - 5 - 0.5 * Math.sin(6 * angle)) / 1.12;
    };
    const [overlap, pitchMm] = meetAlong(rose, 7, 720);
    expect(Math.abs(overlap.medianOverlapMm! / pitchMm - 7)).toBeLessThan(1);
    expect(overlap.maxGapMm).toBeNull();
  });

  it('follows a knock-out out of place from its overlap to its gap', () => {
    const grid = gridOf(16, 16, 720);
    const a = drawPlate('a', grid, circle(8, 8, 4));
    const b = drawPlate('b', grid, outside(circle(8.3, 8, 4)));
    const overlap = measureOverlap(a, b, { searchToMm: 1 })!;
    expect(overlap.maxOverlapMm).toBeGreaterThan(0.3 - 2 * grid.pitchXMm);
    expect(overlap.maxOverlapMm).toBeLessThan(0.3 + grid.pitchXMm);
    expect(overlap.maxGapMm).toBeGreaterThan(0.3 - 2 * grid.pitchXMm);
    expect(overlap.maxGapMm).toBeLessThan(0.3 + grid.pitchXMm);
    expect(overlap.gaps[0].xMm).toBeGreaterThan(11.5);
    const rightmost = overlap.gaps[0].boxMm;
    expect(rightmost.xMm + rightmost.widthMm).toBeGreaterThan(12.2);
  });
});

describe('measureOverlap on what is no common boundary', () => {
  const grid = gridOf(16, 16, 720);
  const square = drawPlate('a', grid, rectangle(8, 8, 12, 12));

  it('finds none in a full overprint, only shared area', () => {
    const overlap = measureOverlap(square, drawPlate('b', grid, circle(8, 8, 3)), { searchToMm: 1 })!;
    expect(overlap.touchingLengthMm).toBe(0);
    expect(overlap.gapLengthMm).toBe(0);
    expect(overlap.sharedAreaMm2 / (Math.PI * 9)).toBeCloseTo(1, 2);
  });

  it('finds none along thin lines, lettering and rims lying wholly on the other ink', () => {
    for (const turnDeg of [0, 17, 45]) {
      const lines = either(
        rectangle(8, 8, 9, 0.3, turnDeg),
        rectangle(8, 8, 0.2, 9, turnDeg),
        rectangle(5, 5, 2, 0.15, turnDeg),
      );
      for (const pair of [
        [square, drawPlate('b', grid, lines)],
        [drawPlate('b', grid, lines), square],
      ] as const) {
        const overlap = measureOverlap(pair[0], pair[1], { searchToMm: 1 })!;
        expect(overlap.touchingLengthMm + overlap.gapLengthMm, `${turnDeg}`).toBe(0);
      }
    }
    const rim = both(rectangle(8, 8, 12, 12), outside(rectangle(8, 8, 11.5, 11.5)));
    const flush = measureOverlap(square, drawPlate('b', grid, rim), { searchToMm: 1 })!;
    expect(flush.touchingLengthMm + flush.gapLengthMm).toBe(0);
    const flushSwapped = measureOverlap(drawPlate('b', grid, rim), square, { searchToMm: 1 })!;
    expect(flushSwapped.touchingLengthMm + flushSwapped.gapLengthMm).toBe(0);
  });

  it('finds none where a band crosses an edge', () => {
    for (const turnDeg of [30, 60, 90, 130]) {
      const band = drawPlate('b', grid, rectangle(8, 2, 9, 0.8, turnDeg));
      const overlap = measureOverlap(square, band, { searchToMm: 1 })!;
      expect(overlap.touchingLengthMm + overlap.gapLengthMm, `${turnDeg} deg`).toBeLessThan(0.4);
    }
  });

  it('is null for plates far apart and for a clear plate', () => {
    const left = drawPlate('a', grid, circle(3, 8, 2));
    expect(measureOverlap(left, drawPlate('b', grid, circle(10, 8, 2)), { searchToMm: 1 })).toBeNull();
    expect(
      measureOverlap(
        left,
        drawPlate('b', grid, () => 1),
        { searchToMm: 1 },
      ),
    ).toBeNull();
  });

  it('takes an overlap wider than the search for shared area', () => {
    const overlap = measureOverlap(
      drawPlate('a', grid, rectangle(5, 8, 8, 10)),
      drawPlate('b', grid, rectangle(11, 8, 8, 10)),
      { searchToMm: 1 },
    )!;
    expect(overlap.touchingLengthMm).toBe(0);
    expect(overlap.sharedAreaMm2).toBeCloseTo(20, 0);
  });

  it('leaves out ignored boxes and gaps another plate prints in', () => {
    const a = drawPlate('a', grid, rectangle(4, 8, 6, 10));
    const b = drawPlate('b', grid, rectangle(10.5, 8, 6, 10));
    const line = drawPlate('c', grid, rectangle(7.25, 8, 0.8, 10.4));
    const open = measureOverlap(a, b, { searchToMm: 1 })!;
    expect(open.maxGapMm).toBeCloseTo(0.5, 1);
    expect(open.gapLengthMm).toBeGreaterThan(9.7);
    expect(measureOverlap(a, b, { searchToMm: 1, covers: [line] })).toBeNull();
    const upper = { xMm: 0, yMm: 0, widthMm: 16, heightMm: 8 };
    const half = measureOverlap(a, b, { searchToMm: 1, ignoreBoxes: [upper] })!;
    expect(half.gapLengthMm).toBeCloseTo(5, 0);
  });
});

describe('measureOverlap at corners', () => {
  const spans = [
    [0, 90, 180],
    [10, 130, 250],
    [33, 100, 280],
    [0, 45, 200],
  ];
  it('counts no false gap or overlap where three inks meet', () => {
    const grid = gridOf(16, 16, 720);
    for (const [p, q, r] of spans) {
      for (const trapPx of [0, 5]) {
        const grow = (trapPx * grid.pitchXMm) / 2;
        const disc = circle(8, 8, 6);
        const cut = (from: number, to: number): Shape =>
          to - from <= 180
            ? both(grownBy(sector(8, 8, from, to), grow), disc)
            : both(outside(grownBy(sector(8, 8, to - 360, from), -grow)), disc);
        const plates = [cut(p, q), cut(q, r), cut(r, p + 360)].map((shape, i) => drawPlate(`p${i}`, grid, shape));
        for (const [i, j] of [
          [0, 1],
          [1, 2],
          [2, 0],
          [1, 0],
        ]) {
          const overlap = measureOverlap(plates[i], plates[j], { searchToMm: 1 })!;
          const label = `${p}/${q}/${r}, trap ${trapPx}, plates ${i} and ${j}`;
          expect(overlap.gapLengthMm, label).toBe(0);
          expect(overlap.touchingLengthMm, label).toBeGreaterThan(5.4);
          expect(overlap.touchingLengthMm, label).toBeLessThan(6.5);
          if (trapPx > 0) {
            expect(Math.abs(overlap.minOverlapMm! / grid.pitchXMm - trapPx), label).toBeLessThan(1);
            expect(Math.abs(overlap.maxOverlapMm! / grid.pitchXMm - trapPx), label).toBeLessThan(1);
          } else expect(overlap.minOverlapMm, label).toBeNull();
        }
      }
    }
  });

  it('measures an outline that covers half its width of the fill', () => {
    const grid = gridOf(16, 16, 720);
    const shape = rectangle(8, 8, 9, 7, 20);
    const key = drawPlate('key', grid, both(grownBy(shape, 0.3), outside(grownBy(shape, -0.3))));
    const fill = drawPlate('fill', grid, shape);
    for (const overlap of [
      measureOverlap(fill, key, { searchToMm: 1 })!,
      measureOverlap(key, fill, { searchToMm: 1 })!,
    ]) {
      expect(Math.abs(overlap.minOverlapMm! - 0.3)).toBeLessThan(grid.pitchXMm);
      expect(Math.abs(overlap.maxOverlapMm! - 0.3)).toBeLessThan(grid.pitchXMm);
      expect(overlap.maxGapMm).toBeNull();
    }
  });
});

describe('measureOverlap under changes that must not matter', () => {
  const outline = either(rectangle(7, 8, 6, 5, 20), circle(10, 9, 3));
  const shapes = (trapMm: number): [Shape, Shape] => [
    grownBy(outline, trapMm / 2),
    outside(grownBy(outline, -trapMm / 2)),
  ];
  const grid = gridOf(17, 16, 720);
  const measured = (a: Shape, b: Shape, on = grid): Overlap =>
    measureOverlap(drawPlate('a', on, a), drawPlate('b', on, b), { searchToMm: 1 })!;

  it('gives the same numbers swapped, mirrored, turned by 90 degrees and shifted', () => {
    for (const trapMm of [-0.2, 0.25]) {
      const [a, b] = shapes(trapMm);
      const plain = measured(a, b);
      const mirror =
        (s: Shape): Shape =>
        (x, y) =>
          s(16.9 - x, y);
      const turn =
        (s: Shape): Shape =>
        (x, y) =>
          s(y, 16 - x);
      const shift = (s: Shape): Shape => moved(s, 13 * grid.pitchXMm, -7 * grid.pitchYMm);
      for (const other of [
        measured(b, a),
        measured(mirror(a), mirror(b)),
        measured(turn(a), turn(b), gridOf(16, 17, 720)),
        measured(shift(a), shift(b)),
      ]) {
        const pitch = grid.pitchXMm;
        if (trapMm > 0) {
          expect(Math.abs(other.minOverlapMm! - plain.minOverlapMm!)).toBeLessThan(0.6 * pitch);
          expect(Math.abs(other.medianOverlapMm! - plain.medianOverlapMm!)).toBeLessThan(0.3 * pitch);
          expect(other.touchingLengthMm / plain.touchingLengthMm).toBeCloseTo(1, 1);
        } else {
          expect(Math.abs(other.maxGapMm! - plain.maxGapMm!)).toBeLessThan(0.6 * pitch);
          expect(other.gapLengthMm / plain.gapLengthMm).toBeCloseTo(1, 1);
        }
        expect(other.sharedAreaMm2).toBeCloseTo(plain.sharedAreaMm2, 1);
      }
    }
  });

  it('gives the same numbers within the error bar at double the pitch, and all else alike', () => {
    const panel = rectangle(8.5, 8, 15.2, 14.1);
    const over = circle(3, 3.2, 1.1);
    for (const trapMm of [-0.2, 0, 0.25]) {
      const a = either(grownBy(outline, trapMm / 2), over);
      const b = both(panel, outside(grownBy(outline, -trapMm / 2)));
      const fine = measured(a, b, gridOf(17, 16, 1440));
      for (const [swapped, other] of [
        [false, measured(a, b)],
        [false, measured(a, b, gridOf(17, 16, 360))],
        [true, measured(b, a)],
      ] as const) {
        const label = `trap ${trapMm} mm at ${other.plusMinusMm.toFixed(3)} mm`;
        const { plusMinusMm } = other;
        for (const part of ['p5Mm', 'medianMm', 'p95Mm'] as const) {
          expect(Math.abs(other.overlapSpread![part] - fine.overlapSpread![part]), label).toBeLessThan(plusMinusMm);
        }
        const lengthOf = ({ touchingLengthMm, gapLengthMm }: Overlap) => touchingLengthMm + gapLengthMm;
        expect(Math.abs(lengthOf(other) / lengthOf(fine) - 1), label).toBeLessThan(0.03);
        expect(Math.abs(other.overprintAreaMm2 / fine.overprintAreaMm2 - 1), label).toBeLessThan(0.1);
        const { firstInSecond, secondInFirst } = other.knockOuts;
        const [standing, none] = swapped ? [secondInFirst, firstInSecond] : [firstInSecond, secondInFirst];
        expect([standing.count, none.count], label).toEqual([1, 0]);
        const fineMm2 = fine.knockOuts.firstInSecond.areaMm2;
        expect(Math.abs(standing.areaMm2 - fineMm2), label).toBeLessThan(plusMinusMm * standing.boundaryMm);
      }
    }
  });

  it('measures plates of different resolutions and of unequal pitches', () => {
    const [a, b] = shapes(0.25);
    for (const [one, two] of [
      [gridOf(17, 16, 720), gridOf(17, 16, 600)],
      [gridOf(17, 16, 600), gridOf(18, 17, 1200)],
      [gridOf(17, 16, 720, 360), gridOf(17, 16, 720, 360)],
    ]) {
      const overlap = measureOverlap(drawPlate('a', one, a), drawPlate('b', two, b), { searchToMm: 1 })!;
      expect(Math.abs(overlap.medianOverlapMm! - 0.25)).toBeLessThan(overlap.plusMinusMm);
      expect(Math.abs(overlap.minOverlapMm! - 0.25)).toBeLessThan(1.2 * overlap.plusMinusMm);
      expect(overlap.maxGapMm).toBeNull();
    }
  });

  it('gives the same answer each time', () => {
    const [a, b] = shapes(0.25);
    expect(JSON.stringify(measured(a, b))).toBe(JSON.stringify(measured(a, b)));
  });
});
