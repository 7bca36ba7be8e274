import type { BoxMm } from '../geometry/box.ts';

/** How opaque a plate is as drawn in the file (not a density: nothing was held to a light). */
export interface Opacity {
  /** Tone-weighted share of the film's area, 0–100. */
  readonly coveragePercent: number;
  /** Share of the film's area that is neither clear nor opaque and no mere edge pixel, 0–100. */
  readonly semiOpaquePercent: number;
  /** Strongest tone on the plate, 0–100. */
  readonly maxInkPercent: number;
  /** Smallest and largest tone among the semi-opaque areas, 0–100; null when there are none. */
  readonly toneMinPercent: number | null;
  readonly toneMaxPercent: number | null;
  /** Where the semi-opaque areas lie, largest first. */
  readonly semiOpaqueAreas: readonly {
    readonly boxMm: BoxMm;
    readonly areaMm2: number;
    readonly meanTonePercent: number;
  }[];
  /** Box around everything opaque; null on a clear plate. */
  readonly inkedBoxMm: BoxMm | null;
}
