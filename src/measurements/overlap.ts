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

/** Length of boundary read from `fromMm` to less than `toMm`; the two are alike, 0, for edges that fall together. */
export interface LengthBin {
  readonly fromMm: number;
  readonly toMm: number;
  readonly lengthMm: number;
}

/** Readings that 5, 25, 50, 75 and 95 % of the boundary's length do not exceed. */
export interface LengthSpread {
  readonly p5Mm: number;
  readonly p25Mm: number;
  readonly medianMm: number;
  readonly p75Mm: number;
  readonly p95Mm: number;
}

/** Shapes of one plate that stand in openings cut for them in the other, which faces them all round. */
export interface KnockOut {
  readonly count: number;
  /** Length of the boundary round them. */
  readonly boundaryMm: number;
  /** Their area, what laps over the other plate included. */
  readonly areaMm2: number;
}

/** What was not measured because dots and not outlines are printed there. */
export interface LeftOut {
  /** Area of film. */
  readonly areaMm2: number;
  /** Area where both plates print. */
  readonly sharedAreaMm2: number;
  /** Outlines of the first plate with an edge of the second near, about. */
  readonly outlineMm: number;
}

/**
 * How two plates meet, along the whole of their common boundary. Coordinates are the first plate's.
 * A boundary is common where the edge of one lies within `searchedToMm` of the edge of the other and the two inks lie
 * on opposite sides of it; an ink printed wholly over another (overprint) has no common boundary.
 * Which of the two lies on top films do not tell: an overlap is the same whichever plate was spread.
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
  /** All of the boundary by overlap, gaps negative, the widest gap first. */
  readonly overlapByLength: readonly LengthBin[];
  /** The same in five figures, butts counting as 0; null where there is no common boundary. */
  readonly overlapSpread: LengthSpread | null;
  /** Area where both print, and where one lies wholly inside the other, mm². */
  readonly sharedAreaMm2: number;
  /** Area of the overlaps along common boundaries. */
  readonly trapAreaMm2: number;
  /**
   * Area where one lies on the other beyond such overlaps: overprint, and overlaps wider than `searchedToMm`.
   * Registration marks and what is `leftOut` do not count. 0 where it is less than a quarter pixel along the overlaps
   * or four pixels.
   */
  readonly overprintAreaMm2: number;
  /** The same as a share of all that the first plate prints, and of the second. */
  readonly overprintPercent: readonly [number, number];
  /** Shapes of the first that stand in openings of the second, and of the second in openings of the first. */
  readonly knockOuts: { readonly firstInSecond: KnockOut; readonly secondInFirst: KnockOut };
  readonly leftOut: LeftOut;
  readonly overlaps: readonly BoundaryPlace[];
  readonly butts: readonly BoundaryPlace[];
  readonly gaps: readonly BoundaryPlace[];
}

/** A strip of colour with no base below that no other part of the art explains. */
export interface BareStrip {
  readonly boxMm: BoxMm;
  readonly xMm: number;
  readonly yMm: number;
  readonly widthMm: number;
  readonly lengthMm: number;
  /** The plates that print there. */
  readonly plateIds: readonly string[];
}

/** How a base plate lies under the plates printed on it. Coordinates are the base plate's. */
export interface UnderbaseFit {
  readonly basePlateId: string;
  readonly topPlateIds: readonly string[];
  readonly plusMinusMm: number;
  /** Inset of the base from the edge of the colours above it (the choke); null where no edges meet. */
  readonly minChokeMm: number | null;
  readonly medianChokeMm: number | null;
  /** Length of the colours' outer edges along which the base ends inside them, flush with them, or past them. */
  readonly insetLengthMm: number;
  readonly flushLengthMm: number;
  readonly peekLengthMm: number;
  /** All of these by choke, peeks negative, the furthest first. */
  readonly chokeByLength: readonly LengthBin[];
  /** The same in five figures, flush edges counting as 0; null where no edges meet. */
  readonly chokeSpread: LengthSpread | null;
  /** Stretches where the base reaches past the colours, widest first; `overlapMm` is how far it peeks out. */
  readonly peeks: readonly BoundaryPlace[];
  /** Stretches whose inset is small, smallest first. */
  readonly chokes: readonly BoundaryPlace[];
  /** Parts of the colours with no base below, further from it than the search. */
  readonly unbased: readonly { readonly boxMm: BoxMm; readonly areaMm2: number; readonly plateId: string }[];
  /** Strips of colour with no base below from edge to edge: what the choke took the base from, longest first. */
  readonly bareStrips: readonly BareStrip[];
  /** Area each plate prints, and how much of it has no base straight below, the choked rim included. */
  readonly tops: readonly { readonly plateId: string; readonly areaMm2: number; readonly bareAreaMm2: number }[];
  /** Area of base with no colour on top, and its parts further from any colour than the search, largest first. */
  readonly exposedAreaMm2: number;
  readonly exposed: readonly { readonly boxMm: BoxMm; readonly areaMm2: number }[];
}
