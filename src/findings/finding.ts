import type { BoxMm, PointMm } from '../geometry/box.ts';

export type Unit =
  | 'mm'
  | 'um'
  | 'ppi'
  | 'lpi'
  | 'deg'
  | 'percent'
  | 'opticalDensity'
  | 'count'
  | 'pt'
  | 'deltaE'
  | 'ratio';

/** Where a limit comes from. */
export type LimitOrigin = 'ticket' | 'shop' | 'default' | 'mesh';

export interface Limit {
  readonly value: number;
  readonly unit: Unit;
  readonly from: LimitOrigin;
  /** The rule in plain words: "opening + 2 threads of mesh 43/cm with 80 µm thread". */
  readonly rule: string;
  /** Published source of the rule, or "common practice, no source". */
  readonly source: string;
}

/** How the dots of a halftone are formed; `unknown` is reckoned as round. */
export type DotForm = 'round' | 'euclidean' | 'square' | 'diamond' | 'elliptical' | 'line' | 'unknown';

/** A halftone, as far as what could be printed instead hangs on it. */
export interface HalftoneFacts {
  readonly rulingLpi: number;
  readonly angleDeg: number;
  readonly dotForm: DotForm;
  /** From the lightest to the darkest. */
  readonly tonesPercent: readonly [number, number];
}

/** A beat of a halftone with its mesh: what was reckoned of it, whether anybody sees it or not. */
export interface MeshBeat extends HalftoneFacts {
  /** The tone the beat is strongest in. */
  readonly tonePercent: number;
  readonly mesh: { readonly threadsPerCm: number; readonly threadUm: number; readonly openingUm: number };
  /** The frequencies whose difference it is, in orders of the ruling and of the threads. */
  readonly rulingOrder: readonly [number, number];
  readonly meshOrder: readonly [number, number];
  /** Swing over the mean, an upper bound. */
  readonly modulationPercent: number;
  /** From band to band over all the ways the mesh may lie; null: without end, a shade over the whole print. */
  readonly shortestPeriodMm: number;
  readonly longestPeriodMm: number | null;
  /** One of the ways it may lie, and the beat then. The direction is across the bands, counter-clockwise. */
  readonly drawn: {
    readonly stretchPercent: number;
    readonly turnDeg: number;
    readonly periodMm: number;
    readonly directionDeg: number;
  };
  readonly viewingDistanceMm: number;
  /** Long enough to be seen easily from there. */
  readonly isLong: boolean;
}

/** A measured value with its error bar and its place. */
export interface Reading {
  readonly value: number;
  readonly unit: Unit;
  /** Half width of the error bar: pixel pitch, flattening tolerance, scan noise. */
  readonly plusMinus: number;
  readonly plateIds: readonly string[];
  readonly inkNames: readonly string[];
  readonly filmId: string | null;
  readonly boxMm: BoxMm | null;
  /** The spot to look at when it is not the middle of the box: the narrowest point of a ring, say. */
  readonly focusMm?: PointMm;
  readonly objectId?: string;
  /** What it is, when there are kinds ("taper", "line"), or a name to show ("Coral A" / "Coral B"). */
  readonly detail?: string;
  /** Not measured well enough to judge: the reason; the reading can then only need review. */
  readonly doubt?: string;
  /** Why it may be worse than read, though never better: the reading can then fail, but not pass. */
  readonly mayBeWorse?: string;
  /**
   * The value at worst, whatever is missing from its plates that could not be drawn completely. When that passes too,
   * such plates cast no doubt on the reading; not given, every one of them does.
   */
  readonly atWorst?: number;
  /** The value is a lower bound: nothing smaller was found, and larger was not sought. */
  readonly atLeast?: boolean;
  /** Of a taper: the width below which `value` is its length. */
  readonly narrowerThanMm?: number;
  /** Of a halftone: what it is; of two, one an ink. */
  readonly halftones?: readonly HalftoneFacts[];
  /** Of a beat: what was reckoned of it. */
  readonly beat?: MeshBeat;
  /** Where it lies when it lies in several places, each with its own share of the value. */
  readonly parts?: readonly { readonly boxMm: BoxMm; readonly focusMm?: PointMm; readonly value: number }[];
}

/** Something that could not be measured, and why. */
export interface Unmeasured {
  readonly reason: string;
  readonly plateIds: readonly string[];
  readonly inkNames: readonly string[];
  readonly filmId: string | null;
  readonly boxMm: BoxMm | null;
}

export interface Place {
  readonly filmId: string;
  readonly xMm: number;
  readonly yMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
  /** The spot to look at; the middle of the box when not given. */
  readonly focusXMm?: number;
  readonly focusYMm?: number;
  readonly value: number;
}

/** Like readings of one check gathered: same code, same inks. The worst reading stands in `measured`. */
export interface Finding {
  readonly code: string;
  readonly outcome: 'fail' | 'needsReview';
  readonly plateIds: readonly string[];
  readonly inkNames: readonly string[];
  readonly measured: { readonly value: number; readonly unit: Unit; readonly plusMinus: number } | null;
  readonly limit: Limit | null;
  /** Worst first, at most 200; `placesTotal` counts all. */
  readonly places: readonly Place[];
  readonly placesTotal: number;
  /** Which way `measured` gets worse: below the limit or above it. */
  readonly worse?: 'less' | 'more';
  /** Of a beat of a halftone with its mesh: what was reckoned of the worst. */
  readonly beat?: MeshBeat;
  /** Names or reasons worth saying with the finding, at most 12. */
  readonly details: readonly string[];
  /** Of readings that are fine as drawn but not certain: what they wait on. */
  readonly waitingOn?: readonly string[];
  readonly advice: { readonly customer: string; readonly printer: string };
}

export interface CheckResult {
  readonly id: string;
  /** `title` of the check when it passes, its `failTitle` when it fails or needs review, else what it asks. */
  readonly title: string;
  readonly asks: string;
  readonly outcome: 'couldNotRun' | 'fail' | 'needsReview' | 'pass' | 'notApplicable';
  /** Why it was not applicable, could not run or could not be settled; null when judged. */
  readonly why: string | null;
  /** What it did not judge because other checks do; left out where that is nothing. */
  readonly leftToOthers?: readonly string[];
  readonly findings: readonly Finding[];
  /** The reading closest to (or farthest past) its limit, for "measured and fine"; null when nothing was measured. */
  readonly tightest: {
    readonly inkNames: readonly string[];
    readonly value: number;
    readonly unit: Unit;
    readonly plusMinus: number;
    readonly limit: Limit;
    /** The value is a lower bound: nothing smaller was found. */
    readonly atLeast?: boolean;
  } | null;
  /** Which way readings get worse: below the limit or above it. */
  readonly worse?: 'less' | 'more';
  readonly readingsTotal: number;
  readonly sources: readonly string[];
}
