import type { Artwork, Film } from '../artwork/film.ts';
import type { Ink } from '../artwork/ink.ts';
import type { Detail } from '../measurements/detail.ts';
import type { Halftone } from '../measurements/halftone.ts';
import type { PlateMarks, Registration } from '../measurements/marks.ts';
import type { Opacity } from '../measurements/opacity.ts';
import type { Overlap, UnderbaseFit } from '../measurements/overlap.ts';
import type { PixelGrid } from '../raster/pixelGrid.ts';
import type { ResolvedTicket } from '../ticket/ticket.ts';

/** What a check may know of a plate; the plate itself stays with the measurements. */
export interface PlateFacts {
  readonly id: string;
  readonly ink: Ink;
  readonly film: Film;
  readonly inkKey: string;
  readonly grid: PixelGrid;
  /** False when the reader could not draw all of it. */
  readonly verified: boolean;
  /** Why not; empty when verified. */
  readonly doubts: readonly string[];
  readonly detail: Detail;
  readonly opacity: Opacity;
  readonly halftone: Halftone;
}

/** Everything measured of a job. Each quantity is measured once, however many checks ask. */
export interface Ask {
  readonly ticket: ResolvedTicket;
  readonly artwork: Artwork;
  readonly plates: readonly PlateFacts[];
  /** Pairs of plates that share a boundary or area, each once. */
  readonly overlaps: readonly Overlap[];
  /** Null when no plate is an underbase. */
  readonly underbase: UnderbaseFit | null;
  readonly marks: readonly PlateMarks[];
  /** Null when fewer than two plates have confirmed marks. */
  readonly registration: Registration | null;
}
