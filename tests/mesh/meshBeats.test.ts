import { describe, expect, it } from 'vitest';
import type { Order } from '../../src/mesh/beat.ts';
import { dotSpectrum } from '../../src/mesh/dotSpectrum.ts';
import { meshBeats } from '../../src/mesh/meshBeats.ts';
import { meshByFormula } from '../../src/mesh/meshGeometry.ts';

const tint20 = dotSpectrum('round', [20]);

function beatsOf(threadsPerCm: number, threadUm: number, rulingLpi: number, angleDeg: number, stretchPercent = 0) {
  return meshBeats({ rulingLpi, angleDeg, dotForm: 'round' }, tint20, meshByFormula(threadsPerCm, threadUm), {
    stretchPercent,
    turnDeg: 0,
  });
}

describe('beats of a halftone with a mesh', () => {
  // Worked by hand from q = k1 F1 + k2 F2 − m1 M1 − m2 M2, P = 10 / |q| and
  // C = 2 |2 J1(x) / x| sinc(m1 a) sinc(m2 a) with tabulated Bessel functions, for a tint of 20 %.
  it.each<[number, number, number, number, number, Order, Order, number]>([
    [120, 34, 55, 22.5, 2.71, [5, -2], [1, 0], 6.6],
    [120, 34, 55, 45, 4.01, [4, -4], [1, 0], 5.7],
    [120, 34, 65, 22.5, 0.82, [6, 3], [1, 1], 1.1],
    [120, 34, 65, 22.5, 1.0, [4, -2], [1, 0], 0.6],
    [120, 34, 65, 45, 0.88, [3, -3], [1, 0], 2.7],
    [120, 34, 65, 0, 1.26, [5, 0], [1, 0], 5.8],
    [120, 34, 48, 22.5, 1.18, [6, -2], [1, 0], 0.8],
    [120, 34, 65, 15, 0.96, [6, 3], [1, 1], 1.1],
    [90, 48, 45, 22.5, 1.81, [5, -2], [1, 0], 7.0],
    [90, 48, 45, 45, 3.06, [7, 0], [1, 1], 2.1],
    [90, 48, 55, 22.5, 0.93, [5, 2], [1, 1], 3.8],
    [62, 64, 35, 22.5, 2.27, [4, -2], [1, 0], 0.6],
    [150, 31, 100, 7.5, 0.65, [4, 3], [1, 1], 3.9],
    [150, 31, 100, 45, 0.65, [5, 0], [1, 1], 3.9],
  ])(
    '%i-%i, %f lpi at %f°: %f mm',
    (threadsPerCm, threadUm, rulingLpi, angleDeg, periodMm, rulingOrder, meshOrder, modulation) => {
      const beats = beatsOf(threadsPerCm, threadUm, rulingLpi, angleDeg);
      const beat = beats.find((one) => `${one.rulingOrder} ${one.meshOrder}` === `${rulingOrder} ${meshOrder}`)!;
      expect(Math.abs(beat.periodMm - periodMm)).toBeLessThan(0.0051);
      expect(Math.abs(beat.modulationPercent - modulation)).toBeLessThan(0.051);
      // Of all beats as slow as this one none is stronger.
      const slower = beats.filter((one) => one.periodMm >= beat.periodMm);
      expect(slower[0]).toBe(beat);
    },
  );

  it('finds the shade over the whole print where mesh and ruling repeat alike', () => {
    // 120/cm over 56.6 lpi is √29: the order 5, −2 meets the threads at 21.80°.
    const [first] = beatsOf(120, 34, 56.6, 21.8).filter(({ periodMm }) => periodMm > 0.7);
    expect(first.rulingOrder).toEqual([5, -2]);
    expect(first.periodMm).toBeGreaterThan(3000);
    // 120/cm over 30/cm is 4: at 0° every order 4, 0 falls on a thread, and all of them together.
    const [alike] = beatsOf(120, 34, 76.2, 0);
    expect(alike.rulingOrder).toEqual([4, 0]);
    expect(alike.periodMm).toBeGreaterThan(1e9);
    expect(alike.modulationPercent).toBeGreaterThan(6.4);
  });

  it('follows the mesh as it is stretched', () => {
    const periods = [0, 1, 2, 3, 4].map(
      (stretchPercent) =>
        beatsOf(120, 34, 55, 22.5, stretchPercent).find(({ rulingOrder }) => `${rulingOrder}` === '5,-2')!.periodMm,
    );
    for (const [index, periodMm] of [2.71, 3.8, 5.66, 7.02, 5.35].entries())
      expect(Math.abs(periods[index] - periodMm)).toBeLessThan(0.0051);
  });

  it('says which way a beat runs', () => {
    // Lines along x, 5 a cm short of the threads: bands along x too, so across is up.
    const lines = dotSpectrum('line', [50]);
    const [first] = meshBeats(
      { rulingLpi: (115 / 3) * 2.54, angleDeg: 0, dotForm: 'line' },
      lines,
      meshByFormula(120, 34),
    );
    expect(first.rulingOrder).toEqual([0, 3]);
    expect(first.meshOrder).toEqual([0, 1]);
    expect(first.directionDeg).toBeCloseTo(90, 9);
    expect(first.periodMm).toBeCloseTo(2, 9);
    // 50 % lines: 2 · sinc 1.5 · sinc(w / p), w / p = 1 − 0.0034 · 120.
    const open = 1 - 0.408;
    const expected = (200 / (1.5 * Math.PI)) * (Math.sin(Math.PI * open) / (Math.PI * open));
    expect(first.modulationPercent).toBeCloseTo(expected, 6);
  });
});
