import type { ClipOutline } from '../../artwork/outline.ts';
import { type BoxMm, containsBox, intersectionOfBoxes, unionOfBoxes } from '../../geometry/box.ts';
import type { PathRange } from '../../geometry/pathStore.ts';
import type { PageContext } from './pageContext.ts';
import type { Clip, TextLine } from './scene.ts';

/** The clip narrowed by a path. */
export function withClipPath(context: PageContext, parent: Clip | null, path: PathRange, evenOdd: boolean): Clip {
  const own = context.store.boxOf(path);
  return {
    parent,
    shape: { path, evenOdd },
    boxMm: met(parent, own),
    rectangleMm: context.store.rectangleOf(path),
  };
}

/** The clip narrowed by the outlines of strings. */
export function withClipText(parent: Clip | null, lines: readonly { line: TextLine; boxMm: BoxMm }[]): Clip {
  const own = lines.map(({ boxMm }) => boxMm).reduce(unionOfBoxes);
  return { parent, shape: { lines: lines.map(({ line }) => line) }, boxMm: met(parent, own), rectangleMm: null };
}

/** Box in which something under the clip can be seen; the film where there is none. */
export function clipMet(context: PageContext, clip: Clip | null): BoxMm {
  const film = { xMm: 0, yMm: 0, widthMm: context.widthMm, heightMm: context.heightMm };
  if (!clip) return film;
  return (clip.boxMm && intersectionOfBoxes(clip.boxMm, film)) ?? { xMm: 0, yMm: 0, widthMm: 0, heightMm: 0 };
}

/** More clips within each other than this are not followed. */
const mostClips = 8;

/** The clips that cut into a box, or null where one of them is no path. */
export function clipOutlines(clip: Clip | null, boxMm: BoxMm): ClipOutline[] | null {
  const outlines: ClipOutline[] = [];
  for (let one = clip; one; one = one.parent) {
    if (one.rectangleMm && containsBox(one.rectangleMm, boxMm)) continue;
    if ('lines' in one.shape || outlines.length === mostClips) return null;
    outlines.push(one.shape);
  }
  return outlines;
}

function met(parent: Clip | null, own: BoxMm): BoxMm | null {
  if (!parent) return own;
  return parent.boxMm && intersectionOfBoxes(parent.boxMm, own);
}
