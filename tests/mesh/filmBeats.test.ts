import { describe, expect, it } from 'vitest';
import { dotSpectrum } from '../../src/mesh/dotSpectrum.ts';
import { angleBetweenDeg, filmBeats } from '../../src/mesh/filmBeats.ts';

const dots = dotSpectrum('round', [30]);
const lines = dotSpectrum('line', [50]);

describe('beats of two films', () => {
  // Two gratings of one pitch at an angle a: p / (2 sin(a / 2)); p = 25.4 / 55 mm.
  it.each([
    [30, 0.89],
    [15, 1.77],
    [7.5, 3.53],
    [1, 26.5],
  ])('at 55 lpi and %f° apart: %f mm', (apartDeg, periodMm) => {
    const [first] = filmBeats(
      { rulingLpi: 55, angleDeg: 20, dotForm: 'round' },
      dots,
      { rulingLpi: 55, angleDeg: 20 + apartDeg, dotForm: 'round' },
      dots,
    );
    expect(Math.abs(first.periodMm / periodMm - 1)).toBeLessThan(0.005);
    expect(first.firstOrder.map(Math.abs)).toEqual(first.secondOrder.map(Math.abs));
  });

  it.each([
    // Pitches p1, p2 at an angle a: p1 p2 / √(p1² + p2² − 2 p1 p2 cos a).
    [1, 10 / 10.5, 0, 20],
    [0.4, 0.4, 5, 4.585],
    [0.4, 0.42, 5, 4.101],
  ])('lines of %f and %f mm at %f°: %f mm', (firstMm, secondMm, apartDeg, periodMm) => {
    const [first] = filmBeats(
      { rulingLpi: 25.4 / firstMm, angleDeg: 0, dotForm: 'line' },
      lines,
      { rulingLpi: 25.4 / secondMm, angleDeg: apartDeg, dotForm: 'line' },
      lines,
    );
    expect(first.periodMm).toBeCloseTo(periodMm, 3);
  });

  it('takes dots alike after a quarter turn, lines after a half', () => {
    const at = (angleDeg: number, dotForm: 'round' | 'elliptical' | 'line') => ({ rulingLpi: 55, angleDeg, dotForm });
    expect(angleBetweenDeg(at(80, 'round'), at(5, 'round'))).toBeCloseTo(15, 9);
    expect(angleBetweenDeg(at(100, 'elliptical'), at(10, 'round'))).toBeCloseTo(0, 9);
    expect(angleBetweenDeg(at(100, 'line'), at(10, 'line'))).toBeCloseTo(90, 9);
    expect(angleBetweenDeg(at(175, 'line'), at(10, 'line'))).toBeCloseTo(15, 9);
  });
});
