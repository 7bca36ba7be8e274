import type { BoxMm } from '../geometry/box.ts';
import type { FacedOutline } from './facedOutline.ts';
import type { EdgedPlane } from './griddedPlane.ts';

/** Two planes laid on each other in film space: only the pair made last may be asked. */
export interface PlanePair {
  readonly own: EdgedPlane;
  readonly other: EdgedPlane;

  /** Area where both planes have ink, mm², counted on the first plane's pixels. */
  sharedAreaMm2(): number;

  /**
   * Counts in parts of rows of the first plane, each told to `span` once: pixels where both planes have ink, and the
   * sides of pixels the first plane's outlines run along in the tiles given (32 × 32 px), level and upright ones.
   */
  countSpans(tiles: Uint8Array, spans: (span: (row: number, from: number, end: number) => void) => void): SpanCounts;

  /** 1: a tile of the first plane, 32 × 32 px, that holds an edge. */
  edgeTiles(): Uint8Array;

  /** The same for tiles with an edge of the other plane no more than the reach away. */
  nearTiles(reachMm: number): Uint8Array;

  /**
   * Visits the outlines of the first plane that the other faces, each once; mere specks are left out. Readings are taken
   * along the outward normal at every second pixel side and gathered in stretches of about 0.75 mm by the mean of their
   * middle half.
   */
  visitOutlines(search: OutlineSearch, visit: (outline: FacedOutline) => void): void;
}

/** What parts of rows hold. */
export interface SpanCounts {
  readonly shared: number;
  readonly levelSides: number;
  readonly uprightSides: number;
}

/** Whether other plates print all across a gap that begins at a point and goes so far across (mm). */
export type Cover = (xMm: number, yMm: number, acrossXMm: number, acrossYMm: number) => boolean;

/** Which outlines of a plane are followed, and how far from them the other plane's edge is looked for. */
export interface OutlineSearch {
  readonly reachMm: number;
  /** The clear film of the other plane takes the part of its ink. */
  readonly invertOther: boolean;
  /** Look also for strips of the first plane that lie wholly on the other. */
  readonly seekStrips: boolean;
  /** 1: a 32 × 32 px tile of the first plane whose outlines are followed; those that leave such tiles are cut. */
  readonly tiles: Uint8Array;
  /** Where no readings are taken. */
  readonly ignoreBoxes: readonly BoxMm[];
  /** Tells of gaps over which other plates print, so that they are none; null: there are no such plates. */
  readonly cover: Cover | null;
}
