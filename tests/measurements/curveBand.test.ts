import { describe, expect, it } from 'vitest';
import { BandPoints } from '../../src/measurements/curveBand.ts';
import { seededRandom } from '../support/seededRandom.ts';

type Condition = readonly [number, number, number, number];

/** The extreme of a over every corner of all conditions p·a + q·b + r·c ≤ s that meets the others. */
function extremeOfCorners(conditions: readonly Condition[], sign: 1 | -1): number | null {
  let best: number | null = null;
  for (let i = 0; i < conditions.length; i++) {
    for (let j = 0; j < i; j++) {
      for (let k = 0; k < j; k++) {
        const corner = cornerOf(conditions[i], conditions[j], conditions[k]);
        if (corner === null) continue;
        const [a, b, c] = corner;
        if (conditions.some(([p, q, r, s]) => p * a + q * b + r * c > s + 1e-7)) continue;
        if (best === null || sign * a > sign * best) best = a;
      }
    }
  }
  return best;
}

function cornerOf(one: Condition, two: Condition, three: Condition): [number, number, number] | null {
  const determinant = (columns: readonly [number, number, number]) => {
    const [[a, b, c], [d, e, f], [g, h, i]] = [one, two, three].map((row) => columns.map((column) => row[column]));
    return a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g);
  };
  const whole = determinant([0, 1, 2]);
  if (Math.abs(whole) < 1e-9) return null;
  return [determinant([3, 1, 2]) / whole, determinant([0, 3, 2]) / whole, determinant([0, 1, 3]) / whole];
}

describe('the band of parabolas between places', () => {
  it('is as high and as low as the corners of all conditions say, and is none where these say so', () => {
    const random = seededRandom(5);
    const band = new BandPoints();
    const [slack, mostValue, mostSlope, mostBend] = [0.05, 12, 0.5, 0.25];
    let empty = 0;
    for (let go = 0; go < 300; go++) {
      const [value, slope, bend] = [3 + 5 * random(), 0.4 * (random() - 0.5), 0.1 * (random() - 0.5)];
      const conditions: Condition[] = [
        [1, 0, 0, mostValue],
        [-1, 0, 0, mostValue],
        [0, 1, 0, mostSlope],
        [0, -1, 0, mostSlope],
        [0, 0, 1, mostBend],
        [0, 0, -1, mostBend],
      ];
      band.count = 0;
      const rough = random() < 0.3 ? 2.5 : 0;
      for (let k = 0; k < 9; k++) {
        const u = -5 + 10 * random();
        const side = random() < 0.5 ? 1 : -1;
        const v = value + slope * u + bend * u * u + side * random() + rough * (random() - 0.5);
        band.add(u, v, side);
        conditions.push([side, side * u, side * u * u, side * v + slack]);
      }
      for (const sign of [1, -1] as const) {
        const expected = extremeOfCorners(conditions, sign);
        const found = band.extreme(sign, slack, mostValue, mostSlope, mostBend);
        if (expected === null) {
          empty++;
          expect(found).toBeNull();
        } else {
          expect(found).toBeCloseTo(expected, 5);
        }
      }
    }
    expect(empty).toBeGreaterThan(5);
  });
});
