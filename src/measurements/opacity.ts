import type { BoxMm } from '../geometry/box.ts';

/** A connected part of a plate in tones. */
export interface GreyArea {
  readonly boxMm: BoxMm;
  readonly areaMm2: number;
  readonly meanTonePercent: number;
}

/** How opaque a plate is as drawn in the file (not a density: nothing was held to a light). */
export interface Opacity {
  /** Tone-weighted share of the film's area, 0–100. */
  readonly coveragePercent: number;
  /** Share of the film's area that is neither clear nor opaque, no edge and no halftone, 0–100. */
  readonly semiOpaquePercent: number;
  /** Strongest tone on the plate, 0–100. */
  readonly maxInkPercent: number;
  /** Smallest and largest tone among the semi-opaque areas, 0–100; null when there are none. */
  readonly toneMinPercent: number | null;
  readonly toneMaxPercent: number | null;
  /** Where the semi-opaque areas lie, largest first; `flat` ones have one tone, `varied` ones are pictures or ramps. */
  readonly semiOpaqueAreas: readonly (GreyArea & { readonly kind: 'flat' | 'varied' })[];
  /** Share of the film's area that is a halftone whose dots have grey edges, and where it lies, largest first. */
  readonly softScreenedPercent: number;
  readonly softScreenedAreas: readonly GreyArea[];
  /** Box around everything opaque; null on a clear plate. */
  readonly inkedBoxMm: BoxMm | null;
}
