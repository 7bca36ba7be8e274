import type { Limit } from '../findings/finding.ts';
import type { PlacementValues } from './ticketSchema.ts';

/** Where a value of the ticket comes from. */
export type ValueOrigin = 'ticket' | 'shop' | 'default';

export interface Sourced<T> {
  readonly value: T;
  readonly from: ValueOrigin;
}

export interface Mesh {
  readonly threadsPerCm: number;
  readonly threadUm: number;
  /** Opening by formula, pitch less thread, unless a data sheet's own is given. */
  readonly openingUm: number;
  readonly openingFrom: 'formula' | 'dataSheet';
  readonly weave: 'plain' | 'twill';
  /** The thread was not given: it is the medium thread of the nearest reference mesh. */
  readonly threadAssumed?: boolean;
  /** How far it may be stretched since its count was true, and out of square with the film; not given, the usual. */
  readonly stretchPercent?: number;
  readonly squarenessDeg?: number;
}

/** A frame the shop owns. Sizes are those inside the frame. */
export interface Frame {
  readonly name: string;
  readonly insideWidthMm: number;
  readonly insideHeightMm: number;
}

export type ScreenRole = 'underbase' | 'colour' | 'key' | 'highlight';

/** The limits that belong to one ink's plate. */
export interface PlateLimits {
  readonly minLineMm: Limit;
  readonly minGapMm: Limit;
  readonly minDotMm: Limit;
  readonly minIslandMm: Limit;
  readonly trapMm: Limit;
  readonly chokeMm: Limit;
  readonly maxTrapMm: Limit;
  readonly minTypePt: Limit;
  /** Threads of the mesh to a line of the halftone. */
  readonly minMeshRatio: Limit;
  /** Share of a halftone in tones that its mesh does not hold. */
  readonly lostTonePercent: Limit;
  /** Swing of a beat with the mesh, over its mean, from which it is reckoned to be seen. */
  readonly moirePercent: Limit;
}

/** A frame of the job: one ink's mesh, role and limits. */
export interface ResolvedScreen {
  /** The ink's name as the ticket gives it, or the art's when the ticket has no entry for it. */
  readonly inkName: string;
  /** The film file the ticket ties this frame to; null when it goes by the ink's name. */
  readonly file: string | null;
  readonly role: Sourced<ScreenRole>;
  readonly mesh: Sourced<Mesh> | null;
  readonly limits: PlateLimits;
  /** Whether the ticket lists this ink. */
  readonly listed: boolean;
}

/** The ticket with every default filled in, each value with its origin. */
export interface ResolvedTicket {
  readonly job: Sourced<string> | null;
  readonly customer: Sourced<string> | null;
  readonly ticketFile: string | null;
  readonly shopFile: string | null;
  readonly garment: { readonly colourHex: Sourced<string>; readonly fabric: Sourced<string> };
  readonly print: {
    readonly widthMm: Sourced<number> | null;
    readonly heightMm: Sourced<number> | null;
    readonly quantity: Sourced<number> | null;
    readonly location: Sourced<string> | null;
    /** Where the art lies on the garment. */
    readonly placement: Sourced<PlacementValues> | null;
    /** From how far the print is looked at. */
    readonly viewingDistanceMm: Sourced<number>;
  };
  readonly press: {
    readonly heads: Sourced<number>;
    readonly registrationMm: Sourced<number>;
    readonly platenMm: Sourced<readonly [number, number]>;
    /** Print heads a flash takes: 0 when it stands beside them, 1 for the flash alone, 2 with a cool-down after it. */
    readonly flashStations: Sourced<number>;
  };
  readonly film: {
    readonly dpi: Sourced<number> | null;
    /** `inArt`: the marks must be on the films as delivered. `addedAtOutput`: the shop's output adds them. */
    readonly marks: Sourced<'inArt' | 'addedAtOutput'>;
  };
  /** Limits of the job as a whole. */
  readonly limits: {
    readonly maxInks: Limit;
    readonly minImagePpi: Limit;
    readonly sizeToleranceMm: Limit;
    readonly nearDuplicateDeltaE: Limit;
    readonly semiOpaquePercent: Limit;
    readonly registrationMm: Limit;
    readonly scalePercent: Limit;
    /** Between the halftones of two inks that print on each other. */
    readonly minAngleDifferenceDeg: Limit;
    /** Share of the edges of halftone dots that may be soft. */
    readonly softDotPercent: Limit;
    readonly markCount: Limit;
    readonly platenMarginMm: Limit;
    readonly heavyCoveragePercent: Limit;
    readonly stations: Limit;
  };
  /** Frames the shop owns, for the press plan; empty when its file lists none. */
  readonly frames: readonly Frame[];
  /** Meshes the shop owns; empty when its file lists none. */
  readonly meshes: readonly { readonly name: string; readonly mesh: Mesh }[];
  /** The frames the ticket lists, in its order. */
  readonly screens: readonly ResolvedScreen[];
  /** The frame of an ink of the art: the ticket's by name, else one made of the defaults. */
  screenFor(inkName: string): ResolvedScreen;
}

/** One thing wrong with a ticket; all of them are reported at once. */
export interface TicketProblem {
  /** Path as in `screens[2].mesh.threadUm`. */
  readonly path: string;
  readonly expected: string;
  readonly received: string;
}

export class WrongTicketError extends Error {
  override readonly name = 'WrongTicketError';
  readonly fileName: string;
  readonly problems: readonly TicketProblem[];

  constructor(fileName: string, problems: readonly TicketProblem[]) {
    super(`${fileName} is not a ticket Plateglass can use: ${problems.length} problem(s).`);
    this.fileName = fileName;
    this.problems = problems;
  }
}
