import type { BoxMm } from '../geometry/box.ts';

/** A stretch of common boundary of two plates. */
export interface BoundaryPlace {
  readonly boxMm: BoxMm;
  readonly xMm: number;
  readonly yMm: number;
  /** Overlap is positive, a gap negative, 0 a butt. */
  readonly overlapMm: number;
  readonly lengthMm: number;
}

/**
 * How two plates meet, along the whole of their common boundary. Coordinates are the first plate's.
 * A boundary is common where the edge of one lies within `searchedToMm` of the edge of the other and the two inks lie
 * on opposite sides of it; an ink printed wholly over another (overprint) has no common boundary.
 */
export interface Overlap {
  readonly plateIds: readonly [string, string];
  readonly searchedToMm: number;
  readonly plusMinusMm: number;
  readonly touchingLengthMm: number;
  /** Smallest and median over the boundary length where they overlap; null where they nowhere do. */
  readonly minOverlapMm: number | null;
  readonly medianOverlapMm: number | null;
  readonly maxOverlapMm: number | null;
  /** Widest gap; null where there is none. */
  readonly maxGapMm: number | null;
  readonly buttedLengthMm: number;
  readonly gapLengthMm: number;
  /** Area where both print, and where one lies wholly inside the other, mm². */
  readonly sharedAreaMm2: number;
  readonly overlaps: readonly BoundaryPlace[];
  readonly butts: readonly BoundaryPlace[];
  readonly gaps: readonly BoundaryPlace[];
}

/** How a base plate lies under the plates printed on it. Coordinates are the base plate's. */
export interface UnderbaseFit {
  readonly basePlateId: string;
  readonly topPlateIds: readonly string[];
  readonly plusMinusMm: number;
  /** Inset of the base from the edge of the colours above it (the choke); null where no edges meet. */
  readonly minChokeMm: number | null;
  readonly medianChokeMm: number | null;
  /** Stretches where the base reaches past the colours, widest first; `overlapMm` is how far it peeks out. */
  readonly peeks: readonly BoundaryPlace[];
  /** Stretches whose inset is small, smallest first. */
  readonly chokes: readonly BoundaryPlace[];
  /** Parts of the colours with no base below, further from it than the search. */
  readonly unbased: readonly { readonly boxMm: BoxMm; readonly areaMm2: number; readonly plateId: string }[];
}
