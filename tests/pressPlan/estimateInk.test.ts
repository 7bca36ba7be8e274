import { describe, expect, it } from 'vitest';
import { meshByFormula } from '../../src/mesh/meshGeometry.ts';
import { estimateInk, plastisolGramsPerCm3 } from '../../src/pressPlan/estimateInk.ts';

describe('estimateInk', () => {
  it.each([
    // 300 × 350 mm, 60 % covered: 0.063 m² of ink. Through 43-80 (53.4 cm³/m²) 3.36 cm³, through 90-48 (24.0) 1.51 cm³.
    [43, 80, 4.83, 400],
    [90, 48, 2.17, 180],
  ])('through %i-%i', (threadsPerCm, threadUm, grams, gramsForJob) => {
    const estimate = estimateInk({
      areaMm2: 300 * 350,
      coveragePercent: 60,
      mesh: meshByFormula(threadsPerCm, threadUm),
      quantity: 72,
    });
    expect(Math.abs(estimate.gramsPerPrint - grams)).toBeLessThan(0.01);
    expect(Math.abs(estimate.gramsForJob - gramsForJob)).toBeLessThan(1);
  });

  it('weighs plastisol at 12 lb a US gallon', () => {
    // 1 lb = 453.59237 g, 1 US gal = 231 in³ = 231 · 2.54³ cm³.
    expect(plastisolGramsPerCm3).toBeCloseTo((12 * 453.59237) / (231 * 2.54 ** 3), 3);
  });
});
