import { inchesToMm, mmToInches, umPerMm } from '../units/lengths.ts';
import type { DotForm } from './dotForm.ts';
import { holeSize } from './toneRange.ts';

/** How far the edges of the darkest dots may spread, µm each. */
export interface GainHeadroom {
  /** Until the holes between them have closed. */
  readonly closesUm: number;
  /** Until the holes are as small as the smallest that is held, negative where they are smaller already; null: not known. */
  readonly holdsUm: number | null;
}

/**
 * How far dots may grow at every edge, whatever makes them (spread light, ink, pressure): the largest circle that fits into
 * the clear between the dots of the darkest tone loses as much of its radius.
 * @param smallestHoleMm that is held; null where that is not known
 */
export function gainHeadroom(
  form: DotForm,
  rulingLpi: number,
  darkestPercent: number,
  smallestHoleMm: number | null,
): GainHeadroom {
  const hole = holeSize(form, darkestPercent / 100);
  const radiusUm = (size: number) => (umPerMm * inchesToMm(size / rulingLpi)) / 2;
  const smallest = smallestHoleMm === null ? null : mmToInches(smallestHoleMm) * rulingLpi;
  return { closesUm: radiusUm(hole), holdsUm: smallest === null ? null : radiusUm(hole - smallest) };
}
