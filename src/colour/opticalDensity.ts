/** Optical density of a transmittance (0 to 1): −log10 T (ISO 5-1). Infinite for no light at all. */
export function opticalDensityOf(transmittanceRatio: number): number {
  return -Math.log10(transmittanceRatio) + 0;
}

/** Share of the light that passes, 0 to 1. */
export function transmittanceOf(opticalDensity: number): number {
  return 10 ** -opticalDensity;
}

/**
 * Optical density of a step of the 21-step wedge: steps 0.15 apart, the last one 3.05, so the first 0.05.
 * Steps count from 1.
 */
export function wedgeStepOpticalDensity(step: number): number {
  return 0.05 + 0.15 * (step - 1);
}

/** Factor on the exposure time that moves the last solid wedge step: 10 to the difference in optical density. */
export function exposureFactorForStep(fromStep: number, toStep: number): number {
  return 10 ** (wedgeStepOpticalDensity(toStep) - wedgeStepOpticalDensity(fromStep));
}

/** Mean optical density of a black with clear specks in it, light adding up by area. */
export function meanOpticalDensity(
  blackOpticalDensity: number,
  clearAreaRatio: number,
  clearOpticalDensity = 0,
): number {
  const through =
    clearAreaRatio * transmittanceOf(clearOpticalDensity) + (1 - clearAreaRatio) * transmittanceOf(blackOpticalDensity);
  return opticalDensityOf(through);
}
