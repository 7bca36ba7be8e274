import type { BoxMm } from '../geometry/box.ts';

/**
 * `am`: dots on a lattice, their size carries the tone. `fm`: dots of one size, scattered or spread by error
 * diffusion. `ordered`: a threshold matrix on the film's own pixels. `pattern`: regular artwork (stripes, checks,
 * hatching) that carries no tone.
 */
export type HalftoneKind = 'am' | 'fm' | 'ordered' | 'pattern';

/**
 * `elliptical`: chained along one axis. `euclidean`: round in the lights, square at half tone, round holes in the darks.
 * `unknown`: the film does not tell.
 */
export type DotShape = 'round' | 'euclidean' | 'square' | 'diamond' | 'elliptical' | 'line' | 'unknown';

/** What a grey film still tells of the shape. */
export type DotShapeClass = 'line' | 'elongated' | 'symmetric' | 'unknown';

/** A connected part of one plate that is screened in one way. */
export interface HalftoneRegion {
  readonly kind: HalftoneKind;
  readonly boxMm: BoxMm;
  readonly areaMm2: number;
  /** Of `am`, `ordered` and `pattern`; null for `fm`. */
  readonly rulingLpi: number | null;
  readonly rulingPlusMinusLpi: number | null;
  /**
   * Counter-clockwise as seen on the film from the x axis: of the dot chain for line and elongated dots (0 ≤ a < 180),
   * of a lattice axis otherwise (0 ≤ a < 90). Null for `fm`.
   */
  readonly angleDeg: number | null;
  readonly anglePlusMinusDeg: number | null;
  readonly dotShape: DotShape;
  readonly dotShapeClass: DotShapeClass;
  /** Of `fm`: side of the smallest dot. */
  readonly dotPitchMm: number | null;
  /** First and 99th percentile by area of the tones of whole cells that are neither clear nor solid. */
  readonly toneMinPercent: number | null;
  readonly toneMaxPercent: number | null;
  readonly tonePlusMinusPercent: number;
  /** Area by tone in steps of 1 %: entry k holds the area in mm² of tones that round to k %, 0 … 100. */
  readonly areaByToneMm2: readonly number[];
  /** How the tones lie over the part. Not in earlier reports. */
  readonly tintMap?: TintMap;
  /** Where the lightest and the darkest tones lie, worst first, a few each. */
  readonly lightest: readonly TonePlace[];
  readonly darkest: readonly TonePlace[];
  /** Film pixels along a cell's side, and the grey levels that gives: its square and one. */
  readonly pixelsPerCell: number | null;
  readonly greyLevels: number | null;
  /** Of grey films: share of the region's black edge that is softer than the film's pixels explain; null on 1-bit films. */
  readonly softEdgePercent: number | null;
  /** Windows the lattice was read in, and how many agreed. */
  readonly windows: number;
  readonly windowsAgreed: number;
}

/** Tones over a part of a plate: squares along the film's axes, the first with its top left corner at a place. */
export interface TintMap {
  readonly xMm: number;
  readonly yMm: number;
  /** Side of a square. */
  readonly pitchMm: number;
  /**
   * Downwards, each with two characters a square: its mean tone in whole percent, `00` to `99` (98.5 and above), or `--`
   * where none of the part's whole cells lies.
   */
  readonly rows: readonly string[];
}

export interface TonePlace {
  readonly boxMm: BoxMm;
  readonly tonePercent: number;
}

/** Halftones of one plate. Every screened part of it is in one of the regions or in `unclassified`. */
export interface Halftone {
  /** Largest first. */
  readonly regions: readonly HalftoneRegion[];
  /** Screened parts that are none of the kinds for sure, and why. */
  readonly unclassified: readonly { readonly boxMm: BoxMm; readonly areaMm2: number; readonly why: string }[];
}
