import type { BoxMm } from '../geometry/box.ts';

/**
 * A stretch of black (a line) or of clear film (a gap) narrower than was searched for.
 * `taper`: it thins out to a point; `minWidthMm` is then no line width and `lengthMm` the length lost below the
 * searched width.
 */
export interface NarrowPlace {
  readonly kind: 'line' | 'taper';
  readonly boxMm: BoxMm;
  /** Middle of the narrowest spot. */
  readonly xMm: number;
  readonly yMm: number;
  readonly minWidthMm: number;
  readonly medianWidthMm: number;
  readonly lengthMm: number;
  /** Direction of the stretch, counter-clockwise from the x axis as seen, 0 ≤ a < 180. */
  readonly directionDeg: number;
  readonly plusMinusMm: number;
  /**
   * Of a film with tones: how far its softer edge reaches from a tenth of full tone to nine tenths, where it is softer
   * than a renderer's smoothing.
   */
  readonly softOverMm?: number;
}

/** An isolated black dot, or an island of clear film (which becomes a free-standing piece of stencil) inside black. */
export interface SpotPlace {
  readonly boxMm: BoxMm;
  readonly areaMm2: number;
  readonly equivalentDiameterMm: number;
  readonly minWidthMm: number;
  readonly plusMinusMm: number;
}

/** Fine detail of one plate, sought over every pixel of it. Holds no limits. */
export interface Detail {
  readonly searchedToMm: number;
  readonly plusMinusMm: number;
  /** Narrowest first. Tapers are in the lists with their kind and do not count for the smallest widths below. */
  readonly lines: readonly NarrowPlace[];
  readonly gaps: readonly NarrowPlace[];
  /** Smallest first, up to `searchedToMm` in diameter. */
  readonly dots: readonly SpotPlace[];
  readonly islands: readonly SpotPlace[];
  /** Smallest of each found, or null: none there below `searchedToMm`. */
  readonly minLineMm: number | null;
  readonly minGapMm: number | null;
  readonly minDotMm: number | null;
  readonly minIslandMm: number | null;
  /** Parts with so many small dots or holes that they are tone, not line art; left out of the lists above. */
  readonly screened: {
    readonly sharePercent: number;
    /** Of the connected parts, largest first, the area of each, and of what lies further within than one tile. */
    readonly boxesMm: readonly BoxMm[];
    readonly areasMm2: readonly number[];
    readonly innerAreasMm2: readonly number[];
    readonly spotCount: number;
  };
}
