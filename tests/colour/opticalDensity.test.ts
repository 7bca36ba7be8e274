import { describe, expect, it } from 'vitest';
import {
  exposureFactorForStep,
  meanOpticalDensity,
  opticalDensityOf,
  transmittanceOf,
  wedgeStepOpticalDensity,
} from '../../src/colour/opticalDensity.ts';

describe('optical density', () => {
  it.each([
    // D = −log10 T (ISO 5-1): 0.3 lets half the light through, each whole step a tenth.
    [0.30103, 0.5],
    [1, 0.1],
    [2, 0.01],
    [3, 0.001],
    [4, 0.0001],
  ])('is %d where a share of %d passes', (opticalDensity, transmittanceRatio) => {
    expect(opticalDensityOf(transmittanceRatio)).toBeCloseTo(opticalDensity, 5);
    expect(transmittanceOf(opticalDensity)).toBeCloseTo(transmittanceRatio, 6);
  });

  it('is 0 for clear and without end for no light', () => {
    expect(Object.is(opticalDensityOf(1), 0)).toBe(true);
    expect(opticalDensityOf(0)).toBe(Number.POSITIVE_INFINITY);
  });

  it.each([
    // Percent through each step of a 21-step wedge 0.15 apart that ends at 3.05: 100 · 10^−D.
    [1, 89.1],
    [7, 11.2],
    [11, 2.82],
    [21, 0.0891],
  ])('of wedge step %i lets %d %% through', (step, percent) => {
    expect(100 * transmittanceOf(wedgeStepOpticalDensity(step))).toBeCloseTo(percent, percent < 1 ? 4 : 1);
  });

  it('ends the wedge at 3.05', () => expect(wedgeStepOpticalDensity(21)).toBeCloseTo(3.05, 9));

  it('moves the last solid step by 10^0.15 a step', () => {
    expect(exposureFactorForStep(4, 7)).toBeCloseTo(2.82, 2); // 10^0.45
    expect(exposureFactorForStep(5, 7)).toBeCloseTo(2.0, 2); // 10^0.30
    expect(exposureFactorForStep(7, 6)).toBeCloseTo(0.708, 3); // 10^−0.15
  });

  it('falls to 2 in a black of 4 with one hundredth clear', () => {
    // T = 0.01 + 0.99 · 0.0001 = 0.010099, D = 1.9957.
    expect(meanOpticalDensity(4, 0.01)).toBeCloseTo(1.9957, 4);
  });
});
