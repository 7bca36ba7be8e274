import { describe, expect, it } from 'vitest';
import { closePath, lineTo, moveTo, PathStore } from '../../src/geometry/pathStore.ts';
import {
  areaOfRing,
  collectEdgesNear,
  type NearEdge,
  type Rings,
  ringsOf,
  spansInside,
} from '../../src/geometry/rings.ts';
import { strokeOutline } from '../../src/geometry/strokeOutline.ts';
import { discFill, strokeAlong } from '../support/outlines.ts';
import { seededRandom } from '../support/seededRandom.ts';

type Corner = readonly [number, number];

function ringsThrough(evenOdd: boolean, ...polygons: readonly (readonly Corner[])[]): Rings {
  const paths = new PathStore();
  for (const corners of polygons) {
    corners.forEach(([x, y], k) => {
      paths.add(k === 0 ? moveTo : lineTo, x, y);
    });
    paths.add(closePath);
  }
  return ringsOf(paths, paths.take(), evenOdd, 0.001);
}

/** How often the polygons wind round a place, by angles summed up. */
function windingAt(polygons: readonly (readonly Corner[])[], x: number, y: number): number {
  let turned = 0;
  for (const corners of polygons) {
    corners.forEach(([ax, ay], k) => {
      const [bx, by] = corners[(k + 1) % corners.length];
      turned += Math.atan2((ax - x) * (by - y) - (bx - x) * (ay - y), (ax - x) * (bx - x) + (ay - y) * (by - y));
    });
  }
  return Math.round(turned / (2 * Math.PI));
}

describe('sections through rings', () => {
  it('are inside where the rings wind round the place, by either rule', () => {
    const random = seededRandom(4);
    for (let k = 0; k < 200; k++) {
      const polygons = Array.from({ length: 1 + (k % 3) }, () =>
        Array.from({ length: 3 + Math.floor(5 * random()) }, () => [10 * random(), 10 * random()] as const),
      );
      for (const evenOdd of [false, true]) {
        const angle = 2 * Math.PI * random();
        const line = { xMm: 10 * random(), yMm: 10 * random(), dx: Math.cos(angle), dy: Math.sin(angle), reachMm: 4 };
        const spans = spansInside(ringsThrough(evenOdd, ...polygons), line);
        for (let t = -3.97; t < 4; t += 0.173) {
          const winding = windingAt(polygons, line.xMm + t * line.dx, line.yMm + t * line.dy);
          const expected = evenOdd ? winding % 2 !== 0 : winding !== 0;
          expect(
            spans.some(({ fromMm, toMm }) => fromMm < t && t < toMm),
            `${k} at ${t}`,
          ).toBe(expected);
        }
      }
    }
  });

  it('end at edges whose direction they tell', () => {
    const square = ringsThrough(false, [
      [0, 0],
      [4, 0],
      [4, 3],
      [0, 3],
    ]);
    const [span] = spansInside(square, { xMm: 2, yMm: 1, dx: 0, dy: 1, reachMm: 9 });
    expect([span.fromMm, span.toMm]).toEqual([-1, 2]);
    expect(Math.abs(span.fromEdge!.dx)).toBe(1);
    const [cut] = spansInside(square, { xMm: 2, yMm: 1, dx: 0, dy: 1, reachMm: 0.5 });
    expect(cut).toEqual({ fromMm: -0.5, toMm: 0.5, fromEdge: null, toEdge: null });
    expect(areaOfRing(square, 0)).toBeCloseTo(12, 12);
  });

  it('of a disc have its diameter and its area', () => {
    const { outline } = discFill(5, 6, 4);
    const rings = ringsOf(outline.paths, outline.path, false, 0.0002);
    for (let angle = 0; angle < Math.PI; angle += 0.1) {
      const line = { xMm: 5, yMm: 6, dx: Math.cos(angle), dy: Math.sin(angle), reachMm: 9 };
      const [{ fromMm, toMm }] = spansInside(rings, line);
      // Four cubics stray by 2.7e-4 of the radius, their pieces by 0.0002 mm.
      expect(Math.abs(toMm - fromMm - 4)).toBeLessThan(2 * (2 * 2.8e-4 + 0.0002));
    }
    expect(areaOfRing(rings, 0)).toBeCloseTo(4 * Math.PI, 2);
  });

  it('of a stroke with a mitred corner, a bevelled and a round one', () => {
    for (const [join, reach] of [
      [0, Math.SQRT2],
      [1, 1],
      [2, Math.SQRT1_2],
    ] as const) {
      const { outline } = strokeAlong([0, 0, 10, 0, 10, 10], 2, { join });
      const store = new PathStore();
      const path = strokeOutline(outline.paths, outline.path, outline.pen!, 0.0002, store);
      const rings = ringsOf(store, path, false, 0.0002);
      // From the corner outwards at 45°.
      const spans = spansInside(rings, { xMm: 10, yMm: 0, dx: Math.SQRT1_2, dy: -Math.SQRT1_2, reachMm: 5 });
      expect(Math.max(...spans.map(({ toMm }) => toMm))).toBeCloseTo(reach, 3);
      const [across] = spansInside(rings, { xMm: 4, yMm: 0, dx: 0, dy: 1, reachMm: 5 });
      expect([across.fromMm, across.toMm]).toEqual([-1, 1]);
    }
  });
});

describe('edges near a point', () => {
  it('are told with their way and the direction to their nearest place', () => {
    const square = ringsThrough(false, [
      [0, 0],
      [4, 0],
      [4, 3],
      [0, 3],
    ]);
    const found: NearEdge[] = [];
    collectEdgesNear(square, 5, 4, 1.5, found);
    // The right and the lower edge, both nearest at their common corner.
    expect(found).toHaveLength(2);
    for (const { awayMm, dx, dy } of found) {
      expect(awayMm).toBeCloseTo(Math.SQRT2, 12);
      expect([dx, dy]).toEqual([expect.closeTo(-Math.SQRT1_2, 12), expect.closeTo(-Math.SQRT1_2, 12)]);
    }
    found.length = 0;
    collectEdgesNear(square, 2, 2.5, 1, found);
    expect(found).toMatchObject([{ awayMm: 0.5, dx: 0, dy: 1 }]);
  });
});
