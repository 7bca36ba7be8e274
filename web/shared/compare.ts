import type { Unit } from '../../src/findings/finding.ts';
import type { Outcome } from '../../src/findings/outcome.ts';
import type { FindingKey } from './jobs.ts';
import type { PlateList } from './plates.ts';

/** GET /api/jobs/:job/compare/:before/:after: what became of a job from one revision to another. */
export interface Comparison {
  readonly before: ComparedRevision;
  readonly after: ComparedRevision;
  /**
   * Null when the plates of one of them were not kept. Tiles (…/tiles/:level/:column/:row) are of three plates: what the
   * later revision has, what is gone, and what was added, of all inks together.
   */
  readonly difference: PlateList | null;
  readonly inks: readonly ComparedInk[];
  readonly findings: readonly ComparedFinding[];
}

export interface ComparedRevision {
  readonly revision: number;
  readonly filmsMm: readonly { readonly widthMm: number; readonly heightMm: number }[];
}

export interface ComparedInk {
  readonly inkName: string;
  /** Of the earlier revision; another one where an ink with the same art was renamed. */
  readonly nameBefore: string | null;
  readonly displayHex: string;
  readonly kind: 'changed' | 'same' | 'added' | 'removed';
  readonly goneMm2: number;
  readonly addedMm2: number;
  /** What is narrower was not compared, as the plates were drawn at two resolutions; 0: every pixel was. */
  readonly leastChangeMm: number;
  /** Largest first, the first 200. */
  readonly places: readonly ChangedPlace[];
  readonly placesTotal: number;
}

export interface ChangedPlace {
  readonly xMm: number;
  readonly yMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly goneMm2: number;
  readonly addedMm2: number;
}

/** A finding in either report; `before` and `after` are null where it is not. */
export interface ComparedFinding extends FindingKey {
  readonly title: string;
  /** notJudged: it is not found any more, but its check could not look this time. */
  readonly kind: 'fixed' | 'stillThere' | 'new' | 'notJudged';
  readonly before: FindingThen | null;
  readonly after: FindingThen | null;
}

export interface FindingThen {
  readonly outcome: Outcome;
  readonly placesTotal: number;
  readonly measured: { readonly value: number; readonly unit: Unit; readonly plusMinus: number } | null;
}
