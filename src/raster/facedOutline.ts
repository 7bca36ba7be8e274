/** A short piece of common boundary with one reading for all of it. */
export interface Stretch {
  /** Across the edge: positive where the other ink reaches in, negative over a gap. */
  readonly overlapMm: number;
  readonly lengthMm: number;
  /** Middle of the stretch, half way between the two edges. */
  readonly xMm: number;
  readonly yMm: number;
  readonly leftMm: number;
  readonly topMm: number;
  readonly rightMm: number;
  readonly bottomMm: number;
  /** Stretches of one unbroken piece of boundary follow one another and share this number. */
  readonly run: number;
}

/** Readings of strips along an outline, one at every second pixel side. The arrays are used again. */
export interface StripReadings {
  readonly length: number;
  readonly closed: boolean;
  readonly xMm: Float64Array;
  readonly yMm: Float64Array;
  /** Outward normal. */
  readonly normalX: Float64Array;
  readonly normalY: Float64Array;
  readonly stepMm: Float64Array;
  /** Width of the outline's ink where all of it lies on the other, else NaN. */
  readonly stripMm: Float64Array;
}

/** An outline between ink and clear film that the other plane faces. */
export interface FacedOutline {
  /** Its end meets its start. */
  readonly closed: boolean;
  readonly stretches: readonly Stretch[];
  /** How much of it the stretches hold, from 0 to 1. */
  readonly facedShare: number;
  /** Area within a closed outline: positive where the ink lies inside it, negative for an opening in the ink. */
  readonly enclosedMm2: number;
  /** Null when there are none or none were sought. */
  readonly strips: StripReadings | null;
}
