import type { BoxMm } from '../geometry/box.ts';

/**
 * What happened to a part of the art. redrawn: it looks different in another way. Of whole inks: inkAdded, inkRemoved,
 * inkRenamed (the same plate by another name), inkRecoloured (the same plate in another colour). allMoved: the whole of
 * the art lies elsewhere on its film.
 */
export type ArtChangeKind =
  | 'moved'
  | 'resized'
  | 'recoloured'
  | 'added'
  | 'removed'
  | 'thickened'
  | 'thinned'
  | 'lighter'
  | 'darker'
  | 'redrawn'
  | 'inkAdded'
  | 'inkRemoved'
  | 'inkRenamed'
  | 'inkRecoloured'
  | 'allMoved';

/** One change of the art from one revision to the next. Lengths are mm of the film. */
export interface ArtChange {
  readonly kind: ArtChangeKind;
  /** As they are called now; of what is removed, as they were called. */
  readonly inkNames: readonly string[];
  /** Of what is recoloured or renamed: the ink it was. */
  readonly wasInkName?: string;
  /** Where it is now; of what is removed, where it was. Null of whole inks. */
  readonly box: BoxMm | null;
  /** Where it was, of what was moved or resized. */
  readonly wasBox?: BoxMm;
  /** To the right and down. */
  readonly movedMm?: { readonly x: number; readonly y: number };
  /** Size now to size before, across and down. */
  readonly factor?: { readonly x: number; readonly y: number };
  /** How much wider or narrower its lines are. */
  readonly byMm?: number;
  /** Mean tone now and before, where it is a tint; 100: solid. */
  readonly tonePercent?: { readonly now: number; readonly before: number };
  /** Of what prints, how much it concerns. */
  readonly areaMm2: number;
}
