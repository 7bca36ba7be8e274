import type { PointMm } from '../geometry/box.ts';

/** A registration mark. Coordinates are its own film's. */
export interface Mark {
  readonly kind: 'crosshair' | 'target' | 'corner' | 'other';
  readonly xMm: number;
  readonly yMm: number;
  readonly plusMinusMm: number;
  readonly lineWeightMm: number;
  readonly sizeMm: number;
  /** White in a black field. */
  readonly reversed: boolean;
  /** The film's edge cuts it. */
  readonly cut: boolean;
  /** Clear film between the mark's box and the nearest ink that is no mark; null where the plate has no other ink. */
  readonly artDistanceMm: number | null;
}

export interface PlateMarks {
  readonly plateId: string;
  /** Confirmed by place on at least two plates, or the only plate's own. */
  readonly marks: readonly Mark[];
  /** Shapes like marks that no other plate has at that place. */
  readonly unconfirmed: readonly Mark[];
  /** Places where other plates have a mark: whether this plate could be looked at there. */
  readonly missing: readonly {
    readonly xMm: number;
    readonly yMm: number;
    readonly looked: boolean;
    readonly why: string | null;
  }[];
  /** Corners of the convex hull around all ink that does not look like a mark, in order; empty when there is none. */
  readonly artHullMm: readonly PointMm[];
}

/** How one plate lies to the reference plate: from the marks both have, or where `marksUsed` is 0 from the art. */
export interface PlateRegister {
  readonly plateId: string;
  readonly marksUsed: number;
  readonly dxMm: number;
  readonly dyMm: number;
  /** Positive counter-clockwise as seen; null when the marks cannot tell (fewer than two). */
  readonly rotationDeg: number | null;
  readonly rotationPlusMinusDeg: number | null;
  readonly scale: number | null;
  /** Of the scale and of its parts along x and y, as a share of one. */
  readonly scalePlusMinus: number | null;
  /** Largest distance left after the fit; null when the fit has no spare marks to tell. */
  readonly residualMm: number | null;
  /** Largest misfit of any mark as the films lie, before any fit. */
  readonly worstOffsetMm: number;
  readonly plusMinusMm: number;
  readonly model: 'translation' | 'similarity' | 'affine';
  readonly residuals: readonly {
    readonly xMm: number;
    readonly yMm: number;
    readonly dxMm: number;
    readonly dyMm: number;
  }[];
  /** Stretch along the reference's x and y; both are `scale` where the marks do not tell them apart. */
  readonly scaleX: number | null;
  readonly scaleY: number | null;
  /** How far the film's axes are from a right angle, positive when they open wider. */
  readonly skewDeg: number | null;
  /** The one mark that does not lie where the others put it, and how far off; null when there is no such one. */
  readonly movedMark: Displaced | null;
  /** Where the art of either film is displaced most as the films lie. */
  readonly worstOnArt: Displaced | null;
  /** Where it is displaced most once the film has been moved and turned to fit as well as it can. */
  readonly worstAfterFit: Displaced | null;
  /** How the art itself fits that of another plate; null when too few edges are common. */
  readonly artFit: ArtFit | null;
}

/** A place of the reference plate and how far from there the other plate has it. */
export interface Displaced {
  readonly xMm: number;
  readonly yMm: number;
  readonly displacementMm: number;
}

/** How a plate's outlines lie to the facing outlines of another plate. */
export interface ArtFit {
  readonly againstPlateId: string;
  /** Places on outlines that agree, and how far from each other they lie beyond the fit (root mean square). */
  readonly edges: number;
  readonly scatterMm: number;
  /** At the middle of those places; right and down positive. */
  readonly dxMm: number;
  readonly dyMm: number;
  /** Positive counter-clockwise as seen. */
  readonly rotationDeg: number;
  readonly scale: number;
  readonly plusMinusMm: number;
  /** Where the art lies furthest from where the marks put it; null without marks. */
  readonly offMarks: Displaced | null;
}

export interface Registration {
  readonly referencePlateId: string;
  readonly plates: readonly PlateRegister[];
}
