import { type MeshMeasures, theoreticalInkVolumeCm3PerM2, type Weave } from '../mesh/meshGeometry.ts';
import { mm2PerM2 } from '../units/lengths.ts';

/** Plastisol at 12 lb a US gallon, the figure an ink maker gives: 12 · 453.59237 g / 3785.41 cm³. */
export const plastisolGramsPerCm3 = 1.438;
/** Share of the ink lost on the way; common practice, no source. */
export const wasteRatio = 0.15;
/** Ink that charges the frame and stays in it, grams; common practice, no source. */
export const chargeGrams = [150, 300] as const;

export interface InkEstimate {
  readonly gramsPerPrint: number;
  /** With waste, without the charge of the frame. */
  readonly gramsForJob: number;
}

/**
 * Ink for a job: area × coverage × theoretical ink volume × weight, times the pieces and the waste.
 * The whole theoretical volume is taken to reach the garment, which is the upper end of what does.
 */
export function estimateInk(input: {
  readonly areaMm2: number;
  /** Tone-weighted share of that area, 0 to 100. */
  readonly coveragePercent: number;
  readonly mesh: MeshMeasures & { readonly weave?: Weave };
  readonly quantity: number;
}): InkEstimate {
  const areaM2 = input.areaMm2 / mm2PerM2;
  const cm3 = areaM2 * (input.coveragePercent / 100) * theoreticalInkVolumeCm3PerM2(input.mesh);
  const gramsPerPrint = cm3 * plastisolGramsPerCm3;
  return { gramsPerPrint, gramsForJob: gramsPerPrint * input.quantity * (1 + wasteRatio) };
}
