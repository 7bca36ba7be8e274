import { mmToInches, rulingPerCmFromLpi } from '../units/lengths.ts';
import { finestDotMm, finestIslandMm } from './detailRules.ts';
import { type DotForm, dotOutline, eachColumn } from './dotForm.ts';
import type { MeshMeasures } from './meshGeometry.ts';

/** Tones of a halftone that a mesh holds, percent. The lightest may exceed the darkest: then it holds none. */
export interface ToneRange {
  readonly lightestPercent: number;
  readonly darkestPercent: number;
}

/** Threads of the mesh to a line of the ruling. */
export function meshToRulingRatio({ threadsPerCm }: Pick<MeshMeasures, 'threadsPerCm'>, rulingLpi: number): number {
  return threadsPerCm / rulingPerCmFromLpi(rulingLpi);
}

/**
 * The tones whose dots are as large as the smallest dot the mesh holds, and whose holes as its smallest island. A round
 * dot comes to π/4 (size · ruling)².
 */
export function usableTones(
  form: DotForm,
  rulingLpi: number,
  smallestDotMm: number,
  smallestIslandMm: number,
): ToneRange {
  const holdsDots = (tone: number) => holdsDotsOf(form, rulingLpi, smallestDotMm, 100 * tone);
  const holdsHoles = (clear: number) => holdsHolesOf(form, rulingLpi, smallestIslandMm, 100 - 100 * clear);
  return { lightestPercent: 100 * leastTone(holdsDots), darkestPercent: 100 - 100 * leastTone(holdsHoles) };
}

/** Whether the dots of a tone are as large as the smallest that is held. */
export function holdsDotsOf(form: DotForm, rulingLpi: number, smallestDotMm: number, tonePercent: number): boolean {
  return dotSize(form, tonePercent / 100) >= mmToInches(smallestDotMm) * rulingLpi;
}

/** Whether the holes of a tone are as large as the smallest island that is held. */
export function holdsHolesOf(form: DotForm, rulingLpi: number, smallestIslandMm: number, tonePercent: number): boolean {
  return holeSize(form, tonePercent / 100) >= mmToInches(smallestIslandMm) * rulingLpi;
}

/** The tones a mesh holds by its threads alone. */
export function usableTonesOfMesh(form: DotForm, rulingLpi: number, mesh: MeshMeasures): ToneRange {
  return usableTones(form, rulingLpi, finestDotMm(mesh), finestIslandMm(mesh));
}

/** The largest circle that fits into a dot, its diameter in sides of the cell; of a line its width. */
export function dotSize(form: DotForm, tone: number): number {
  if (form === 'line') return tone;
  const outline = dotOutline(form, tone);
  let least = outline.halfWidth;
  eachColumn(outline, (across) => {
    least = Math.min(least, Math.hypot(across, outline.reach(across)));
  });
  return 2 * least;
}

/** The largest circle that fits into the clear between dots, likewise. */
export function holeSize(form: DotForm, tone: number): number {
  if (form === 'line') return 1 - tone;
  const outline = dotOutline(form, tone);
  let least = Math.SQRT1_2;
  eachColumn(outline, (across) => {
    least = Math.min(least, Math.hypot(0.5 - across, 0.5 - outline.reach(across)));
  });
  return 2 * least;
}

/** The least share from 0 to 1 at which something that stays true begins to be. */
function leastTone(isEnough: (tone: number) => boolean): number {
  let [low, high] = [0, 1];
  for (let step = 0; step < 36; step++) {
    const middle = (low + high) / 2;
    if (isEnough(middle)) high = middle;
    else low = middle;
  }
  return high;
}
