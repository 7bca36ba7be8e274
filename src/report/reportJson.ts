import type { InkKind } from '../artwork/ink.ts';
import type { CheckResult, Limit } from '../findings/finding.ts';
import type { Verdict } from '../findings/outcome.ts';
import type { BoxMm } from '../geometry/box.ts';
import type { Halftone, HalftoneRegion } from '../measurements/halftone.ts';
import type { Mark, PlateMarks, PlateRegister } from '../measurements/marks.ts';
import type { Overlap, UnderbaseFit } from '../measurements/overlap.ts';
import type { PressPlan } from '../pressPlan/pressPlan.ts';
import type { PlacementValues } from '../ticket/ticketSchema.ts';

/** The one stable boundary: every page, note and export is drawn from this. Fields are added, never renamed. */
export interface ReportJson {
  readonly schema: 'plateglass/report/1';
  readonly version: string;
  readonly verdict: Verdict;
  /** Only when a film could not be opened: which, what is wrong with it, and what to do. */
  readonly error?: { readonly file: string; readonly code: string; readonly message: string; readonly remedy: string };
  readonly job: { readonly name: string; readonly ticketFile: string | null };
  readonly ticket: ReportTicket;
  readonly films: readonly ReportFilm[];
  /** How the files were joined, and what stays open. */
  readonly joined: readonly { readonly code: string; readonly message: string; readonly open: boolean }[];
  readonly inks: readonly {
    readonly id: string;
    readonly name: string;
    readonly kind: InkKind;
    readonly displayHex: string;
    readonly printed: boolean;
  }[];
  readonly plates: readonly ReportPlate[];
  readonly pairs: readonly ReportPair[];
  /** Null when no plate is a base. */
  readonly underbase: ReportUnderbase | null;
  readonly registration: null | {
    readonly referencePlateId: string;
    readonly plates: readonly {
      readonly plateId: string;
      readonly dxMm: number;
      readonly dyMm: number;
      readonly rotationDeg: number | null;
      readonly rotationPlusMinusDeg: number | null;
      readonly scale: number | null;
      /** Of the scales, as a share of one. */
      readonly scalePlusMinus: number | null;
      readonly residualMm: number | null;
      readonly marksUsed: number;
      /** Stretch along the reference's x and y, and how far the axes are from a right angle. */
      readonly scaleX: number | null;
      readonly scaleY: number | null;
      readonly skewDeg: number | null;
      readonly model: PlateRegister['model'];
      /** What the fit leaves of each mark: its place on the reference, and how far off it lies. */
      readonly residuals: PlateRegister['residuals'];
      readonly worstOffsetMm: number;
      readonly plusMinusMm: number;
      readonly movedMark: PlateRegister['movedMark'];
      /** Largest displacement of the art as the films lie, and once moved and turned to fit. */
      readonly worstOnArt: PlateRegister['worstOnArt'];
      readonly worstAfterFit: PlateRegister['worstAfterFit'];
      /** How the art lies to that of another plate by its own outlines. */
      readonly artFit: PlateRegister['artFit'];
    }[];
  };
  readonly checks: readonly CheckResult[];
  /** What this version does not look at, said openly. */
  readonly notLookedAt: readonly { readonly title: string; readonly why: string }[];
  readonly plan: PressPlan;
  readonly timings: Readonly<Record<string, number>>;
  /** What people decided, where the report was handed out after that; the check itself leaves it out. */
  readonly decisions?: ReportDecisions;
}

/** Times are UTC (ISO 8601); both lists are in the order of time. */
export interface ReportDecisions {
  readonly revision: number;
  /** A later revision of the job came: what was decided here holds no longer. */
  readonly isSuperseded: boolean;
  readonly standing: 'released' | 'onHold' | null;
  readonly made: readonly ReportDecision[];
  readonly history: readonly {
    readonly at: string;
    readonly who: string;
    readonly what: string;
    readonly revision: number | null;
  }[];
}

export interface ReportDecision {
  readonly kind: 'release' | 'hold' | 'askCustomer' | 'acceptFinding' | 'doOurselves';
  readonly by: string;
  readonly reason: string;
  readonly at: string;
  readonly finding: { readonly checkId: string; readonly code: string; readonly inkNames: readonly string[] } | null;
  readonly undone: { readonly at: string; readonly by: string; readonly reason: string } | null;
}

export interface ReportTicket {
  readonly file: string | null;
  readonly shopFile: string | null;
  readonly garmentHex: string;
  readonly fabric: string;
  readonly print: {
    readonly widthMm: number | null;
    readonly heightMm: number | null;
    readonly quantity: number | null;
    readonly location: string | null;
    /** Where the art lies on the garment; reports of earlier versions do not say. */
    readonly placement?: PlacementValues | null;
  };
  readonly press: {
    readonly heads: number;
    readonly registrationMm: number;
    readonly platenMm: readonly [number, number];
  };
  readonly limits: Readonly<Record<string, Limit>>;
  readonly screens: readonly {
    readonly ink: string;
    readonly role: string;
    readonly listed: boolean;
    readonly mesh: null | {
      readonly threadsPerCm: number;
      readonly threadsPerInch: number;
      readonly threadUm: number;
      readonly openingUm: number;
      readonly from: 'ticket' | 'shop' | 'default';
    };
    readonly limits: Readonly<Record<string, Limit>>;
  }[];
}

export type ReportPlacement = NonNullable<ReportTicket['print']['placement']>;

export interface ReportFilm {
  readonly id: string;
  readonly file: string;
  readonly sizeBytes: number;
  readonly sha256: string;
  readonly page: number;
  readonly format: string;
  readonly nature: string;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly scaleKnown: boolean;
  readonly objectCount: number;
  /** The art on the film; null when there is none, or when its marks could not be told from it. Not in earlier reports. */
  readonly artMm?: (BoxMm & { readonly plusMinusMm: number }) | null;
  readonly notes: readonly { readonly code: string; readonly message: string }[];
}

export interface ReportPlate {
  readonly id: string;
  readonly inkId: string;
  readonly filmId: string;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly pitchMm: number;
  readonly pitchYMm: number;
  readonly verified: boolean;
  readonly coveragePercent: number;
  readonly minLineMm: number | null;
  readonly minGapMm: number | null;
  readonly minDotMm: number | null;
  readonly minIslandMm: number | null;
  readonly detailPlusMinusMm: number;
  readonly detailSearchedToMm: number;
  readonly screenedPercent: number;
  /** Null when no part of the plate is screened for sure. */
  readonly halftone: ReportHalftone | null;
  /** Of parts whose ruling was read, where the mesh is known: what they make with it. */
  readonly meshBeats: readonly ReportMeshBeats[];
  /** Of parts of dots on a lattice: how far these may grow. Not in earlier reports. */
  readonly gainHeadroom?: readonly ReportGainHeadroom[];
  /** Screened parts that are none of the kinds for sure, the first 50. */
  readonly halftoneUnclassified: Halftone['unclassified'];
  readonly opacity: { readonly semiOpaquePercent: number; readonly maxInkPercent: number };
  readonly scan: null;
  readonly marks: readonly ReportMark[];
  /** Places where other plates have a mark and this one shows none: whether it could be looked at there. */
  readonly missingMarks: PlateMarks['missing'];
}

/** The largest screened part of a plate, and all of them in `regions`, of which it is the first. */
export interface ReportHalftone
  extends Pick<
    HalftoneRegion,
    'kind' | 'rulingLpi' | 'angleDeg' | 'dotShape' | 'toneMinPercent' | 'toneMaxPercent' | 'windows'
  > {
  /** Largest first, the first 50. */
  readonly regions: readonly HalftoneRegion[];
  readonly regionsTotal: number;
}

/** What one part of a plate makes with its mesh. Facts of geometry; whether it is seen, `mesh-moire` estimates. */
export interface ReportMeshBeats {
  /** Index in `halftone.regions`. */
  readonly region: number;
  /** Threads to a line. */
  readonly meshRatio: number;
  /** The tones whose dots and holes the threads of the mesh hold. */
  readonly heldTonesPercent: readonly [number, number];
  /** Strongest first, the first 5 that repeat more slowly than the halftone, of a mesh as its count says. */
  readonly beats: readonly {
    readonly rulingOrder: readonly [number, number];
    readonly meshOrder: readonly [number, number];
    /** Null: without end. */
    readonly periodMm: number | null;
    /** Across the bands, counter-clockwise from the x axis. */
    readonly directionDeg: number;
    /** Swing over the mean, an upper bound, in the tone given. */
    readonly modulationPercent: number;
    readonly tonePercent: number;
  }[];
}

/** How far the dots of the darkest tone in use may grow at every edge, by geometry; how far they will is for a print to say. */
export interface ReportGainHeadroom {
  /** Index in `halftone.regions`. */
  readonly region: number;
  readonly darkestPercent: number;
  /** Until the holes between the dots have closed. */
  readonly closesUm: number;
  /** Until the mesh no longer holds the holes; negative where it does not now, null where no mesh is known. */
  readonly holdsUm: number | null;
  readonly plusMinusUm: number;
  /** The darkest tone the mesh holds less the darkest in use; null likewise. */
  readonly tonePercent: number | null;
}

export interface ReportPair {
  readonly plateIds: readonly [string, string];
  readonly touchingLengthMm: number;
  readonly minOverlapMm: number | null;
  readonly medianOverlapMm: number | null;
  readonly maxGapMm: number | null;
  readonly buttedLengthMm: number;
  readonly searchedToMm: number;
  readonly plusMinusMm: number;
  readonly maxOverlapMm: number | null;
  readonly gapLengthMm: number;
  /** All of the common boundary by overlap, gaps negative, butts from 0 to 0. */
  readonly overlapByLength: Overlap['overlapByLength'];
  readonly overlapSpread: Overlap['overlapSpread'];
  readonly sharedAreaMm2: number;
  readonly trapAreaMm2: number;
  /** Where one lies on the other beyond traps, and its share of all that either plate prints. */
  readonly overprintAreaMm2: number;
  readonly overprintPercent: Overlap['overprintPercent'];
  /** Shapes of one plate standing in openings of the other. Films do not tell which of the two was spread. */
  readonly knockOuts: Overlap['knockOuts'];
  /** Screened parts, where dots meet and not outlines: not measured. */
  readonly leftOut: Overlap['leftOut'];
}

/** Shapes of one plate that stand in openings of the other. */
export type KnockOut = ReportPair['knockOuts']['firstInSecond'];

/** The base under all that prints on it; lengths along the outer edge of that. Of places the first 50 each. */
export interface ReportUnderbase {
  readonly basePlateId: string;
  readonly topPlateIds: readonly string[];
  readonly plusMinusMm: number;
  readonly minChokeMm: number | null;
  readonly medianChokeMm: number | null;
  readonly insetLengthMm: number;
  readonly flushLengthMm: number;
  readonly peekLengthMm: number;
  /** All of that edge by choke, peeks negative, flush edges from 0 to 0. */
  readonly chokeByLength: UnderbaseFit['chokeByLength'];
  readonly chokeSpread: UnderbaseFit['chokeSpread'];
  readonly tops: UnderbaseFit['tops'];
  /** Parts of colour further than the search from any base, and strips of it with none below however near. */
  readonly unbased: UnderbaseFit['unbased'];
  readonly unbasedTotal: number;
  readonly bareStrips: UnderbaseFit['bareStrips'];
  readonly bareStripsTotal: number;
  readonly exposedAreaMm2: number;
  /** Parts of base further than the search from any colour. */
  readonly exposed: UnderbaseFit['exposed'];
  readonly exposedTotal: number;
}

export interface ReportMark extends Mark {
  /** Whether all of it lies within the print size of the ticket, laid in the middle of the film; null: no size given. */
  readonly insidePrint: boolean | null;
}
