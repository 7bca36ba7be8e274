import { pitchUmFromThreadsPerCm } from '../units/lengths.ts';

/** A square-woven mesh: what the geometry of its openings needs. */
export interface MeshMeasures {
  readonly threadsPerCm: number;
  /** Diameter of the thread before weaving. */
  readonly threadUm: number;
  readonly openingUm: number;
}

export type Weave = 'plain' | 'twill';

/** A mesh whose opening is the pitch less the thread, as most data sheets calculate it. */
export function meshByFormula(threadsPerCm: number, threadUm: number): MeshMeasures {
  return { threadsPerCm, threadUm, openingUm: nominalOpeningUm(threadsPerCm, threadUm) };
}

/**
 * Opening by formula, pitch less thread. Measured data sheets run 4 to 9 µm lower, because threads flatten.
 * Source: the terms of ISO 9044 for wire cloth, pitch = opening + wire.
 */
export function nominalOpeningUm(threadsPerCm: number, threadUm: number): number {
  return pitchUmFromThreadsPerCm(threadsPerCm) - threadUm;
}

/** Share of the area that is open, 0–100: the square of opening over pitch (ISO 9044 terms). */
export function openAreaPercent(mesh: Pick<MeshMeasures, 'threadsPerCm' | 'openingUm'>): number {
  return 100 * (mesh.openingUm / pitchUmFromThreadsPerCm(mesh.threadsPerCm)) ** 2;
}

/** Fabric thickness over thread diameter, fitted to four published plain rows (error up to 5.1 %) and one twill row. */
const thicknessPerThread: Record<Weave, number> = { plain: 1.55, twill: 1.77 };

/** Thickness of the woven fabric, an estimate: makers measure it. Always less than two threads. */
export function estimateFabricThicknessUm(threadUm: number, weave: Weave = 'plain'): number {
  return thicknessPerThread[weave] * threadUm;
}

/**
 * Theoretical ink volume in cm³ a m²: fabric thickness times open area; 1 µm of fully open fabric holds 1 cm³ a m².
 * With the estimated thickness when none was measured.
 */
export function theoreticalInkVolumeCm3PerM2(
  mesh: MeshMeasures & { readonly weave?: Weave; readonly fabricThicknessUm?: number },
): number {
  const thicknessUm = mesh.fabricThicknessUm ?? estimateFabricThicknessUm(mesh.threadUm, mesh.weave);
  return (thicknessUm * openAreaPercent(mesh)) / 100;
}
