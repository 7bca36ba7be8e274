import type { PathLists, PathRange } from '../geometry/pathStore.ts';
import type { Pen } from '../geometry/pen.ts';

/** What an object covers, exactly as its file states it, and what it does there. */
export interface Outline {
  /** Where the paths lie; film space. */
  readonly paths: PathLists;
  readonly path: PathRange;
  readonly evenOdd: boolean;
  /** The path is drawn along with this pen; null: it is filled. */
  readonly pen: Pen | null;
  /** Only what lies inside all of these is seen. */
  readonly clips: readonly ClipOutline[];
  /** The inks it takes away where it lies, of those it does not paint with itself: every one, or these. */
  readonly clears: 'others' | readonly string[];
}

export interface ClipOutline {
  readonly path: PathRange;
  readonly evenOdd: boolean;
}
