import { describe, expect, it } from 'vitest';
import { readSvg, svgText } from '../readers/svg/svgSupport.ts';
import { seededRandom } from '../support/seededRandom.ts';
import { statedDetail } from '../support/statedDetail.ts';

/**
 * Turned boxes strewn over a film without touching each other. The truth is worked out corner by corner and edge by
 * edge, and knows nothing of how the program finds it.
 */
interface Box {
  readonly points: readonly (readonly [number, number])[];
  readonly breadthMm: number;
}

function boxOf(xMm: number, yMm: number, lengthMm: number, breadthMm: number, angleDeg: number): Box {
  const [c, s] = [Math.cos((angleDeg * Math.PI) / 180), Math.sin((angleDeg * Math.PI) / 180)];
  const points = [
    [-1, -1],
    [1, -1],
    [1, 1],
    [-1, 1],
  ].map(([u, v]) => {
    const [x, y] = [(u * lengthMm) / 2, (v * breadthMm) / 2];
    // As it is written in the file.
    return [Number((xMm + x * c - y * s).toFixed(5)), Number((yMm + x * s + y * c).toFixed(5))] as const;
  });
  return { points, breadthMm };
}

function toSegment([x, y]: readonly [number, number], a: readonly [number, number], b: readonly [number, number]) {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const t = Math.min(1, Math.max(0, ((x - a[0]) * dx + (y - a[1]) * dy) / (dx * dx + dy * dy)));
  return Math.hypot(x - a[0] - t * dx, y - a[1] - t * dy);
}

/** Of boxes that do not meet, the least way lies between a corner of one and an edge of the other. */
function distanceBetween(a: Box, b: Box): number {
  let least = Infinity;
  for (const [one, other] of [
    [a, b],
    [b, a],
  ]) {
    for (const point of one.points) {
      other.points.forEach((from, k) => {
        least = Math.min(least, toSegment(point, from, other.points[(k + 1) % 4]));
      });
    }
  }
  return least;
}

function meets(a: Box, b: Box): boolean {
  // Convex shapes are apart when a side of one has all of the other beyond it.
  return ![
    [a, b],
    [b, a],
  ].some(([one, other]) =>
    one.points.some((from, k) => {
      const to = one.points[(k + 1) % 4];
      const side = ([x, y]: readonly [number, number]) =>
        (to[0] - from[0]) * (y - from[1]) - (to[1] - from[1]) * (x - from[0]);
      return other.points.every((point) => side(point) < 0);
    }),
  );
}

function strewn(seed: number): Box[] {
  const random = seededRandom(seed);
  const boxes: Box[] = [];
  for (let k = 0; k < 900 && boxes.length < 70; k++) {
    const angle = random() < 0.3 ? 90 * Math.floor(random() * 2) : random() * 180;
    const box = boxOf(3 + random() * 54, 3 + random() * 34, 2 + random() * 6, 0.1 + random() ** 2 * 1.5, angle);
    if (boxes.every((other) => !meets(box, other) && distanceBetween(box, other) > 0.12)) boxes.push(box);
  }
  return boxes;
}

describe('boxes strewn over a film', () => {
  it.each([1, 2, 3, 4, 5, 6])(
    'have the breadths and the gaps that follow from their corners, seed %i',
    async (seed) => {
      const boxes = strewn(seed);
      const film = await readSvg(
        svgText(
          boxes.map(({ points }) => `<path d="M${points.map((point) => point.join(' ')).join('L')}Z"/>`).join(''),
        ),
      );
      const { detail, lines, gaps } = await statedDetail(film, '#000000', 600);
      const exact = <T extends { plusMinus: number }>(readings: readonly T[]) =>
        readings.filter(({ plusMinus }) => plusMinus < 0.004);

      const breadths = boxes.map(({ breadthMm }) => breadthMm);
      expect(lines.length).toBeGreaterThan(20);
      expect(exact(lines).length).toBe(detail.lines.filter(({ kind }) => kind === 'line').length);
      for (const { value, plusMinus } of exact(lines)) {
        const missMm = Math.min(...breadths.map((breadth) => Math.abs(breadth - value)));
        // The corners are written to a hundred-thousandth.
        expect(missMm, `a line of ${value}`).toBeLessThanOrEqual(plusMinus + 3e-5);
      }

      const distances: number[] = [];
      boxes.forEach((a, k) => {
        for (const b of boxes.slice(k + 1)) distances.push(distanceBetween(a, b));
      });
      const measured = detail.gaps.filter(({ kind }) => kind === 'line');
      expect(exact(gaps).length).toBeGreaterThan(0.5 * measured.length);
      for (const { value, plusMinus, focusMm } of exact(gaps)) {
        const missMm = Math.min(...distances.map((distance) => Math.abs(distance - value)));
        expect(missMm, `a gap of ${value} at ${focusMm?.xMm}, ${focusMm?.yMm}`).toBeLessThanOrEqual(plusMinus + 3e-5);
      }
    },
  );
});
