import type { BoxMm } from '../geometry/box.ts';

/**
 * What a reader could not draw, had to decide, or wants people to know. `affects` says what it casts doubt on:
 * `plate`: the plates of `inkKeys` (none listed: every plate of the film) are not verified and each reading on them
 * becomes needsReview. `size`: the size in mm. `inks`: which inks there are. `nothing`: worth knowing only.
 */
export interface ReadNote {
  /** Kebab-case, permanent. */
  readonly code: string;
  /** One plain sentence for people; names from files are quoted as text. */
  readonly message: string;
  readonly affects: 'plate' | 'size' | 'inks' | 'nothing';
  readonly inkKeys?: readonly string[];
  readonly objectId?: string;
  readonly boxMm?: BoxMm;
}
