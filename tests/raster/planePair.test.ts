import { describe, expect, it } from 'vitest';
import { bitAt } from '../../src/raster/bitPlane.ts';
import type { FacedOutline } from '../../src/raster/facedOutline.ts';
import { edgedPlane, type GriddedPlane } from '../../src/raster/griddedPlane.ts';
import { pairOfPlanes } from '../../src/raster/pairOfPlanes.ts';
import type { OutlineSearch, PlanePair } from '../../src/raster/planePair.ts';
import { drawPlate, gridOf, outside, type Shape } from '../support/overlapPlates.ts';
import { seededRandom } from '../support/seededRandom.ts';

const grid = gridOf(30, 24, 400);

/** Discs of all sizes, some cut by the border of the film. */
function discs(seed: number, count: number): Shape {
  const random = seededRandom(seed);
  const all = Array.from({ length: count }, () => [30 * random(), 24 * random(), 0.3 + 4 * random() ** 2]);
  return (x, y) => Math.min(...all.map(([cx, cy, r]) => Math.hypot(x - cx, y - cy) - r));
}

function tilesOf({ bits }: GriddedPlane, flag: (tile: number) => boolean): Uint8Array {
  const tiles = new Uint8Array(bits.wordsPerRow * Math.ceil(bits.heightPx / 32));
  return tiles.map((_, tile) => (flag(tile) ? 1 : 0));
}

function outlinesOf(
  own: GriddedPlane,
  other: GriddedPlane,
  search: Partial<OutlineSearch> = {},
): { outlines: Omit<FacedOutline, 'strips'>[]; pair: PlanePair } {
  const pair = pairOfPlanes(edgedPlane(own), edgedPlane(other));
  const outlines: Omit<FacedOutline, 'strips'>[] = [];
  const tiles = tilesOf(own, () => true);
  const whole = { reachMm: 1, invertOther: false, seekStrips: false, ignoreBoxes: [], cover: null, tiles, ...search };
  pair.visitOutlines(whole, ({ strips: _, ...outline }) => outlines.push(outline));
  return { outlines, pair };
}

describe('two planes in the memory of the kernels', () => {
  it('share as many pixels as a look at each finds', () => {
    const a = drawPlate('a', grid, discs(1, 12));
    const b = drawPlate('b', grid, discs(2, 12));
    let shared = 0;
    for (let row = 0; row < grid.heightPx; row++) {
      for (let column = 0; column < grid.widthPx; column++) {
        shared += bitAt(a.bits, column, row) & bitAt(b.bits, column, row);
      }
    }
    expect(shared).toBeGreaterThan(1000);
    const { pair } = outlinesOf(a, b);
    expect(pair.sharedAreaMm2()).toBeCloseTo(shared * grid.pitchXMm * grid.pitchYMm, 9);
  });
});

describe('outlines against a plane that is all the other way', () => {
  const random = seededRandom(5);
  const circles = Array.from({ length: 9 }, (_, k) => ({
    x: 4 + 10 * (k % 3) + random(),
    y: 4 + 8 * Math.floor(k / 3) + random(),
    r: 0.5 + 2.5 * random(),
  }));
  const shape: Shape = (x, y) => Math.min(...circles.map((c) => Math.hypot(x - c.x, y - c.y) - c.r));
  const own = drawPlate('own', grid, shape);
  const other = drawPlate('other', grid, outside(shape));

  it('are each found once, closed, faced all round, with the area and length drawn', () => {
    const { outlines } = outlinesOf(own, other);
    expect(outlines).toHaveLength(9);
    const drawn = circles.map(({ r }) => r).sort((p, q) => p - q);
    const found = outlines.sort((p, q) => p.enclosedMm2 - q.enclosedMm2);
    found.forEach(({ closed, facedShare, enclosedMm2, stretches }, index) => {
      expect(closed).toBe(true);
      expect(facedShare).toBe(1);
      expect(Math.abs(enclosedMm2 / (Math.PI * drawn[index] ** 2) - 1)).toBeLessThan(0.02);
      const lengthMm = stretches.reduce((sum, stretch) => sum + stretch.lengthMm, 0);
      expect(Math.abs(lengthMm / (2 * Math.PI * drawn[index]) - 1)).toBeLessThan(0.03);
      expect(new Set(stretches.map(({ run }) => run)).size).toBe(1);
    });
    // The same outlines seen from the other side run round openings.
    expect(outlinesOf(other, own).outlines.filter(({ enclosedMm2 }) => enclosedMm2 < 0)).toHaveLength(9);
  });

  it('come as pieces where tiles are left out, none twice', () => {
    const whole = outlinesOf(own, other).outlines.flatMap(({ stretches }) => stretches);
    const length = (stretches: readonly { lengthMm: number }[]) => stretches.reduce((sum, s) => sum + s.lengthMm, 0);
    const halves = [0, 1].map((part) => {
      const tiles = tilesOf(own, (tile) => (Math.floor((tile % own.bits.wordsPerRow) / 2) & 1) === part);
      return outlinesOf(own, other, { tiles }).outlines;
    });
    expect(halves.flat().some(({ closed }) => !closed)).toBe(true);
    const parted = halves.flat().flatMap(({ stretches }) => stretches);
    // At a cut a piece loses up to a sample, and one shorter than 0.3 mm is dropped.
    expect(length(parted)).toBeLessThan(1.02 * length(whole));
    expect(length(parted)).toBeGreaterThan(0.85 * length(whole));
  });

  it('are not read in boxes, nor where the film ends', () => {
    const box = { xMm: 0, yMm: 0, widthMm: 30, heightMm: 9 };
    const read = outlinesOf(own, other, { ignoreBoxes: [box] }).outlines.flatMap(({ stretches }) => stretches);
    expect(Math.min(...read.map(({ topMm }) => topMm))).toBeGreaterThan(9);
    const bordered = drawPlate('bordered', grid, (x) => x - 10);
    const beside = drawPlate('beside', grid, (x) => 10 - x);
    const edge = outlinesOf(bordered, beside).outlines.flatMap(({ stretches }) => stretches);
    for (const { leftMm, rightMm } of edge) expect([leftMm, rightMm].every((x) => Math.abs(x - 10) < 0.1)).toBe(true);
    expect(Math.abs(edge.reduce((sum, s) => sum + s.lengthMm, 0) / 24 - 1)).toBeLessThan(0.01);
  });

  it('are no gap where told that something prints there', () => {
    const grown = drawPlate('grown', grid, (x, y) => -shape(x, y) + 0.3);
    const gaps = outlinesOf(own, grown).outlines.flatMap(({ stretches }) => stretches);
    for (const { overlapMm } of gaps) expect(Math.abs(overlapMm + 0.3)).toBeLessThan(grid.pitchXMm);
    const asked: number[] = [];
    const left = outlinesOf(own, grown, {
      cover: (xMm, _yMm, acrossX, acrossY) => {
        asked.push(Math.hypot(acrossX, acrossY));
        return xMm < 15;
      },
    }).outlines.flatMap(({ stretches }) => stretches);
    expect(Math.min(...left.map(({ xMm }) => xMm))).toBeGreaterThan(14.5);
    expect(left.length).toBeGreaterThan(0.3 * gaps.length);
    for (const acrossMm of asked) expect(Math.abs(acrossMm - 0.3)).toBeLessThan(2 * grid.pitchXMm);
  });
});

describe('readings across outlines', () => {
  it('of strips are those of a plain look at every step', () => {
    const stripes: Shape = (x, y) => Math.abs(((0.94 * x + 0.342 * y) % 1.7) - 0.85) - 0.3;
    const own = drawPlate('own', grid, stripes);
    const other = drawPlate('other', grid, discs(4, 14));
    const inkAt = ({ bits }: GriddedPlane, x: number, y: number) =>
      bitAt(bits, Math.floor(x / grid.pitchXMm), Math.floor(y / grid.pitchYMm));
    const step = grid.pitchXMm;
    const strips: { mm: number; x: number; y: number; nx: number; ny: number }[] = [];
    const pair = pairOfPlanes(edgedPlane(own), edgedPlane(other));
    const search = { reachMm: 1, invertOther: true, seekStrips: true, ignoreBoxes: [], cover: null };
    pair.visitOutlines({ ...search, tiles: tilesOf(own, () => true) }, ({ strips: readings }) => {
      if (readings === null) return;
      for (let i = 0; i < readings.length; i++) {
        if (Number.isNaN(readings.stripMm[i])) continue;
        strips.push({
          mm: readings.stripMm[i],
          x: readings.xMm[i],
          y: readings.yMm[i],
          nx: readings.normalX[i],
          ny: readings.normalY[i],
        });
      }
    });
    expect(strips.length).toBeGreaterThan(2000);
    for (const { mm, x, y, nx, ny } of strips) {
      expect(mm).toBeLessThan(1 + 2 * step);
      // All the way in there is own ink and nothing of the other; beyond it own ink ends.
      for (let s = 1.75 * step; s < mm - 0.1 * step; s += step) {
        expect(inkAt(own, x - s * nx, y - s * ny)).toBe(1);
        expect(inkAt(other, x - s * nx, y - s * ny)).toBe(0);
      }
      expect(inkAt(own, x - (mm + 0.05 * step) * nx, y - (mm + 0.05 * step) * ny)).toBe(0);
    }
  });
});
