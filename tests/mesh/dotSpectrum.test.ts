import { describe, expect, it } from 'vitest';
import { areaOf, type DotForm, dotOutline } from '../../src/mesh/dotForm.ts';
import { dotSpectrum } from '../../src/mesh/dotSpectrum.ts';

const forms: readonly DotForm[] = ['round', 'euclidean', 'square', 'diamond', 'elliptical', 'line'];

describe('dots', () => {
  it.each(forms)('%s: the area is the tone', (form) => {
    for (const tone of [0.02, 0.1, 0.3, 0.5, 0.7, 0.78, 0.9, 0.97])
      expect(Math.abs(areaOf(dotOutline(form, tone)) - tone)).toBeLessThan(1e-4);
  });

  it('a round dot comes to 2 J1(x) / x', () => {
    // J1 by scipy.special.j1 at x = 2π √(0.2/π) · k.
    const expected = {
      1: 0.7170698,
      2: 0.1722569,
      3: 0.1220965,
      5: 0.0564011,
      8: 0.0211135,
      12: 0.010726,
      16: 0.0064034,
    };
    const spectrum = dotSpectrum('round', [20]);
    for (const [k, amplitude] of Object.entries(expected)) {
      expect(spectrum.amplitude(Number(k), 0)).toBeCloseTo(amplitude, 5);
      expect(spectrum.amplitude(0, -Number(k))).toBeCloseTo(amplitude, 5);
    }
    // √(3² + 4²) = 5.
    expect(spectrum.amplitude(3, 4)).toBeCloseTo(0.0564011, 5);
  });

  it('squares, diamonds and lines come to sincs', () => {
    const sinc = (x: number) => Math.abs(Math.sin(Math.PI * x) / (Math.PI * x));
    expect(dotSpectrum('square', [25]).amplitude(3, 1)).toBeCloseTo(sinc(1.5) * sinc(0.5), 3);
    // A diamond of 32 % is a square of side √0.32 turned by 45°: orders 2, 0 lie at ±√2 of its axes.
    expect(dotSpectrum('diamond', [32]).amplitude(2, 0)).toBeCloseTo(sinc(Math.SQRT2 * Math.sqrt(0.32)) ** 2, 3);
    const lines = dotSpectrum('line', [30]);
    expect(lines.amplitude(0, 2)).toBeCloseTo(sinc(0.6), 9);
    expect(lines.amplitude(2, 0)).toBe(0);
    expect(lines.amplitude(1, 1)).toBe(0);
  });

  it('holes repeat as strongly as dots', () => {
    for (const form of ['euclidean', 'diamond', 'elliptical'] as const) {
      const dots = dotSpectrum(form, [20]);
      const holes = dotSpectrum(form, [80]);
      for (const [k, l] of [
        [1, 0],
        [2, 1],
        [0, 3],
      ])
        expect(80 * holes.amplitude(k, l)).toBeCloseTo(20 * dots.amplitude(k, l), 1);
    }
  });

  it('draws elongated dots out along their chain', () => {
    const spectrum = dotSpectrum('elliptical', [10]);
    expect(spectrum.amplitude(2, 0)).toBeLessThan(spectrum.amplitude(0, 2));
    // A small one is an ellipse: transforms along its axes are those of discs as large as each axis.
    const long = dotSpectrum('round', [Math.sqrt(1.5)]);
    const small = dotSpectrum('elliptical', [1]);
    expect(small.amplitude(3, 0)).toBeCloseTo(long.amplitude(3, 0), 2);
  });

  it('tells the tone that repeats most strongly', () => {
    const spectrum = dotSpectrum('round', [10, 20, 50]);
    expect(spectrum.tonePercent(1, 0)).toBe(10);
    for (const tone of [10, 20, 50])
      expect(spectrum.amplitude(3, 1)).toBeGreaterThanOrEqual(dotSpectrum('round', [tone]).amplitude(3, 1));
  });
});
