import { describe, expect, it } from 'vitest';
import { measureOverlap } from '../../src/measurements/measureOverlap.ts';
import type { Overlap } from '../../src/measurements/overlap.ts';
import {
  both,
  circle,
  drawPlate,
  gridOf,
  grownBy,
  outside,
  rectangle,
  regularPolygon,
  type Shape,
} from '../support/overlapPlates.ts';

/**
 * Traps of known width along shapes of known geometry: each plate's pixels are those whose centres lie inside its shape,
 * so what is drawn and what is expected both come from the geometry alone.
 */
const dpi = 720;
const grid = gridOf(12, 12, dpi);
const pitchMm = grid.pitchXMm;
const trapsPx = [-6, -4.7, -3.25, -2.5, -1.4, 0, 0.8, 1.3, 2.5, 3.6, 4.25, 5.7, 7.1, 8.5];

interface Outline {
  readonly name: string;
  readonly shape: Shape;
  /** Length of the outline, mm; for circles of a ring both. */
  readonly lengthMm: number;
}

const outlines: readonly Outline[] = [
  { name: 'small circle', shape: circle(6.013, 5.991, 1.5), lengthMm: 3 * Math.PI },
  { name: 'circle', shape: circle(6.013, 5.991, 4.2), lengthMm: 8.4 * Math.PI },
  {
    name: 'ring',
    shape: both(circle(6.01, 6.02, 4.1), outside(circle(6.01, 6.02, 2.3))),
    lengthMm: 2 * Math.PI * (4.1 + 2.3),
  },
  ...[7, 15, 22.5, 30, 60.3].map((turnDeg) => ({
    name: `rectangle at ${turnDeg} deg`,
    shape: rectangle(6.007, 6.02, 6.1, 5.3, turnDeg),
    lengthMm: 2 * (6.1 + 5.3),
  })),
  ...[3, 5, 6].flatMap((sides) =>
    [4, 19].map((turnDeg) => ({
      name: `${sides} sides at ${turnDeg} deg`,
      shape: regularPolygon(6.01, 5.98, sides, 2.6, turnDeg),
      lengthMm: 2 * 2.6 * sides * Math.tan(Math.PI / sides),
    })),
  ),
];

function trapAlong(shape: Shape, trapPx: number): Overlap {
  const halfMm = (trapPx * pitchMm) / 2;
  const a = drawPlate('a', grid, grownBy(shape, halfMm));
  const b = drawPlate('b', grid, outside(grownBy(shape, -halfMm)));
  return measureOverlap(a, b, { searchToMm: 1 })!;
}

function expectMeeting(overlap: Overlap, trapPx: number, lengthMm: number, label: string): void {
  const parts = { overlap: overlap.touchingLengthMm - overlap.buttedLengthMm, butt: overlap.buttedLengthMm };
  const expected = trapPx === 0 ? parts.butt : trapPx > 0 ? parts.overlap : overlap.gapLengthMm;
  const all = overlap.touchingLengthMm + overlap.gapLengthMm;
  expect(expected / all, `${label}: share that meets as drawn`).toBeGreaterThan(Math.abs(trapPx) < 1 ? 0.5 : 0.999);
  expect(Math.abs(all / lengthMm - 1), `${label}: length`).toBeLessThan(0.03);
}

describe('traps of known width', () => {
  let cells = 0;
  for (const { name, shape, lengthMm } of outlines) {
    it(`are read within 0.3 px by the median along a ${name}`, () => {
      for (const trapPx of trapsPx) {
        const label = `trap ${trapPx} px`;
        const overlap = trapAlong(shape, trapPx);
        expectMeeting(overlap, trapPx, lengthMm, label);
        const readPx = overlap.overlapSpread!.medianMm / pitchMm;
        if (trapPx === 0) expect(readPx, label).toBe(0);
        else expect(Math.abs(readPx - trapPx), label).toBeLessThan(0.3);
        cells++;
      }
    });
  }

  it('are at least 80', () => expect(cells).toBeGreaterThanOrEqual(80));

  it('along pixel rows are as wide as the rows of centres drawn', () => {
    for (const trapPx of trapsPx) {
      for (const offPx of [0, 0.3, 0.77]) {
        const edgeMm = (100 + offPx) * pitchMm;
        const trapMm = trapPx * pitchMm;
        for (const turned of [false, true]) {
          const half = (sign: number): Shape => {
            return (x, y) => sign * ((turned ? y : x) - edgeMm) - trapMm / 2;
          };
          const overlap = measureOverlap(drawPlate('a', grid, half(1)), drawPlate('b', grid, half(-1)), {
            searchToMm: 1,
          })!;
          // Centres at 0.5, 1.5 …: `a` has those up to its edge, `b` those from its own.
          const last = Math.floor(100 + offPx + trapPx / 2 - 0.5);
          const first = Math.ceil(100 + offPx - trapPx / 2 - 0.5);
          expect(overlap.overlapSpread!.medianMm / pitchMm, `${trapPx} px, off by ${offPx}`).toBeCloseTo(
            last - first + 1,
            1,
          );
        }
      }
    }
  });

  it('at 45 deg are as wide as the diagonal rows of centres drawn', () => {
    for (const trapPx of trapsPx) {
      for (const offPx of [0, 0.21, 0.5]) {
        const edge = (165 + offPx) * pitchMm;
        const half = (sign: number): Shape => {
          return (x, y) => (sign * (x + y - edge)) / Math.SQRT2 - (trapPx * pitchMm) / 2;
        };
        const a = drawPlate('a', grid, half(1));
        const b = drawPlate('b', grid, half(-1));
        // Centres lie on the diagonals x + y = 1, 2, 3 … pixels, 1/√2 px apart.
        const last = Math.floor(165 + offPx + (trapPx * Math.SQRT2) / 2 + 1e-9);
        const first = Math.ceil(165 + offPx - (trapPx * Math.SQRT2) / 2 - 1e-9);
        const drawnPx = (last - first + 1) / Math.SQRT2;
        const readPx = measureOverlap(a, b, { searchToMm: 1 })!.overlapSpread!.medianMm / pitchMm;
        expect(Math.abs(readPx - drawnPx), `${trapPx} px, off by ${offPx}`).toBeLessThan(0.3);
      }
    }
  });
});
