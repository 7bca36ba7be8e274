import type { Ruling } from './beat.ts';
import { type BandBeat, beatsInBand, type MeshBand } from './beatBand.ts';
import type { DotSpectrum } from './dotSpectrum.ts';
import type { MeshMeasures } from './meshGeometry.ts';

/**
 * When a beat is reckoned to be seen. An estimate: eyes are most sensitive near 2 to 6 cycles a degree of sight, which
 * at a distance V are periods of 0.0029 to 0.0087 V; how strong a beat must be has not been measured on prints.
 */
export interface SightRule {
  readonly viewingDistanceMm: number;
  /** Shorter beats, as a share of the distance, are not seen. */
  readonly leastPeriodShare: number;
  /** From here on a beat is seen easily. */
  readonly plainPeriodShare: number;
  /** Weaker beats are not seen. */
  readonly faintPercent: number;
  /** Stronger ones are seen at once. */
  readonly plainPercent: number;
}

/** Seen faintly from 0.002 of the distance and 1.5 %, plainly from 0.003 and 4 %. A choice, not calibrated on prints. */
export const usualSight: Omit<SightRule, 'viewingDistanceMm'> = {
  leastPeriodShare: 0.002,
  plainPeriodShare: 0.003,
  faintPercent: 1.5,
  plainPercent: 4,
};

export interface MoireEstimate {
  readonly sight: 'none' | 'faint' | 'plain';
  /** The strongest beat long enough to be seen easily, whether strong enough or not; null when there is none. */
  readonly easiest: BandBeat | null;
  /** The strongest of those long enough to be seen at all. */
  readonly strongest: BandBeat | null;
}

/** Whether the beats of a halftone with a mesh are likely seen, however the mesh lies within its band. */
export function estimateMoire(
  ruling: Ruling,
  spectrum: DotSpectrum,
  mesh: MeshMeasures,
  band: MeshBand,
  rule: SightRule,
  leastModulationPercent = rule.faintPercent,
): MoireEstimate {
  const beats = beatsInBand(ruling, spectrum, mesh, band, {
    leastPeriodMm: rule.leastPeriodShare * rule.viewingDistanceMm,
    leastModulationPercent,
  });
  const [strongest = null] = beats;
  const plainMm = rule.plainPeriodShare * rule.viewingDistanceMm;
  const easiest = beats.find(({ periodMm }) => periodMm >= plainMm) ?? null;
  const isPlain = easiest !== null && easiest.modulationPercent >= rule.plainPercent;
  const isFaint = strongest !== null && strongest.modulationPercent >= rule.faintPercent;
  return { sight: isPlain ? 'plain' : isFaint ? 'faint' : 'none', easiest, strongest };
}
