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

/** How one plate lies to the reference plate, from the marks both have. */
export interface PlateRegister {
  readonly plateId: string;
  readonly marksUsed: number;
  readonly dxMm: number;
  readonly dyMm: number;
  /** Positive counter-clockwise as seen; null when the marks cannot tell (fewer than two). */
  readonly rotationDeg: number | null;
  readonly scale: number | null;
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
}

export interface Registration {
  readonly referencePlateId: string;
  readonly plates: readonly PlateRegister[];
}
