import { describe, expect, it } from 'vitest';
import { meshByFormula } from '../../src/mesh/meshGeometry.ts';
import { dotSize, holeSize, meshToRulingRatio, usableTonesOfMesh } from '../../src/mesh/toneRange.ts';

describe('tones a mesh holds', () => {
  // π/4 (δ L)² with δ = w + 2d, in percent, at 35, 45, 55, 65 and 85 lpi.
  it.each([
    [43, 80, [14.6]],
    [62, 64, [7.6, 12.5, 18.7]],
    [77, 48, [4.7, 7.8, 11.7, 16.3]],
    [90, 48, [3.8, 6.2, 9.3, 13.0, 22.3]],
    [90, 40, [3.4, 5.6, 8.4, 11.7, 20.1]],
    [120, 34, [2.1, 3.4, 5.1, 7.1, 12.1]],
    [120, 31, [1.9, 3.2, 4.8, 6.7, 11.5]],
    [140, 31, [1.6, 2.6, 3.9, 5.4, 9.2]],
    [150, 31, [1.4, 2.4, 3.5, 4.9, 8.4]],
    [165, 31, [1.3, 2.1, 3.1, 4.3, 7.4]],
  ])('%i-%i: the lightest of round dots', (threadsPerCm, threadUm, lightest) => {
    for (const [index, percent] of lightest.entries()) {
      const lpi = [35, 45, 55, 65, 85][index];
      const tones = usableTonesOfMesh('round', lpi, meshByFormula(threadsPerCm, threadUm));
      expect(Math.abs(tones.lightestPercent - percent)).toBeLessThan(0.0501);
    }
  });

  it('of other forms by the largest circle that fits in', () => {
    // 90-48 at 45 lpi: δ L = 0.15911 · 45 / 25.4 = 0.28189.
    const cells = (0.15911111 * 45) / 25.4;
    const mesh = meshByFormula(90, 48);
    const percentOf = (form: 'square' | 'diamond' | 'line') => usableTonesOfMesh(form, 45, mesh);
    expect(percentOf('square').lightestPercent).toBeCloseTo(100 * cells ** 2, 2);
    expect(percentOf('diamond').lightestPercent).toBeCloseTo(100 * cells ** 2, 2);
    expect(percentOf('line').lightestPercent).toBeCloseTo(100 * cells, 2);
    // Holes of diamonds and lines are as their dots; squares leave a grid whose crossings are √2 (1 − √t) wide.
    expect(percentOf('diamond').darkestPercent).toBeCloseTo(100 - 100 * cells ** 2, 2);
    expect(percentOf('line').darkestPercent).toBeCloseTo(100 - 100 * cells, 2);
    expect(percentOf('square').darkestPercent).toBeCloseTo(100 * (1 - cells / Math.SQRT2) ** 2, 2);
  });

  it('a free-standing round dot has its diameter, round holes between joined discs what is left of the diagonal', () => {
    expect(dotSize('round', 0.2)).toBeCloseTo(2 * Math.sqrt(0.2 / Math.PI), 9);
    // At π/4 the discs touch: radius ½, and √½ from a middle to the middle of the clear.
    expect(holeSize('round', Math.PI / 4)).toBeCloseTo(2 * (Math.SQRT1_2 - 0.5), 3);
  });

  it('the ratio is taken in lines of one unit', () => {
    // 43/cm over 35 lpi = 43 · 2.54 / 35.
    expect(meshToRulingRatio({ threadsPerCm: 43 }, 35)).toBeCloseTo(3.1206, 4);
    expect(meshToRulingRatio({ threadsPerCm: 120 }, 55)).toBeCloseTo(5.5418, 4);
  });
});
