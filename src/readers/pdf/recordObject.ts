import type { ArtObject } from '../../artwork/artObject.ts';
import type { Outline } from '../../artwork/outline.ts';
import { type BoxMm, intersectionOfBoxes } from '../../geometry/box.ts';
import type { PathRange } from '../../geometry/pathStore.ts';
import type { Pen } from '../../geometry/pen.ts';
import { clipOutlines } from './clips.ts';
import { plainComposite } from './composites.ts';
import { whiteKey } from './inkBook.ts';
import type { PageContext } from './pageContext.ts';
import { inkedTints, type Paint } from './paint.ts';
import type { Clip, Composite } from './scene.ts';

export interface ObjectFacts {
  readonly kind: ArtObject['kind'];
  readonly boxMm: BoxMm;
  readonly clip: Clip | null;
  readonly composite: Composite;
  readonly layerPath: readonly string[];
  readonly layerOff: boolean;
  readonly overprint: ArtObject['overprint'];
  /** What it is painted with; several for images, shadings and text in more than one colour. */
  readonly paints: readonly Paint[];
  readonly invisible?: boolean;
  readonly strokeWidthMm?: ArtObject['strokeWidthMm'];
  /** The path it fills, or draws along with a pen. */
  readonly drawn?: { readonly path: PathRange; readonly evenOdd: boolean; readonly pen: Pen | null };
  readonly text?: ArtObject['text'];
  readonly image?: ArtObject['image'];
}

/**
 * Adds an object to the list, and marks its inks as used when it is seen. Answers its id and whether it is drawn.
 */
export function recordObject(context: PageContext, facts: ObjectFacts): { id: string; drawn: boolean } {
  const hidden = hiddenReason(context, facts);
  const inks = inksOfPaints(facts.paints);
  if (hidden === null) {
    for (const ink of inks) context.inks.markUsed(ink.key);
    for (const paint of facts.paints) if (paint.named.get(whiteKey)) context.inks.markUsed(whiteKey);
  }
  const drawn = hidden === null;
  const id = context.nextObjectId();
  if (context.mutedDepth > 0) return { id, drawn };
  const shown = inks.filter((ink) => ink.key !== whiteKey);
  context.objects.push({
    id,
    kind: facts.kind,
    boxMm: facts.boxMm,
    inks: shown,
    isWhite: shown.length === 0 && facts.paints.length > 0,
    strokeWidthMm: facts.strokeWidthMm ?? null,
    outline: hidden === null ? outlineOf(context, facts) : undefined,
    text: facts.text ?? null,
    image: facts.image ?? null,
    overprint: facts.overprint,
    opacityRatio: facts.composite.alpha * context.group.alpha,
    blendMode: facts.composite.blendMode === 'Normal' ? context.group.blendMode : facts.composite.blendMode,
    layerPath: facts.layerPath,
    hidden,
  });
  return { id, drawn };
}

/** Its exact outline, where nothing but paths has a say in what is seen of it. */
function outlineOf(context: PageContext, facts: ObjectFacts): Outline | undefined {
  const { drawn, composite, paints } = facts;
  if (!drawn || paints.length !== 1 || composite !== plainComposite || !context.group.isPlain) return undefined;
  const { named, leavesOthers } = paints[0];
  // What overprints in an isolated group may or may not leave what lies below the group.
  if (leavesOthers && context.group.isIsolated) return undefined;
  const clips = clipOutlines(facts.clip, facts.boxMm);
  if (!clips) return undefined;
  const clears = leavesOthers ? [...named].filter(([, tint]) => tint === 0).map(([key]) => key) : 'others';
  return { paths: context.store, ...drawn, clips, clears };
}

const inksOfOne = new WeakMap<Paint, ReturnType<typeof inkedTints>>();

/** Inks with their largest tints; lists are shared between objects of the same paint. */
function inksOfPaints(paints: readonly Paint[]): ReturnType<typeof inkedTints> {
  if (paints.length === 1) {
    let inks = inksOfOne.get(paints[0]);
    if (!inks) {
      inks = inkedTints(paints[0]);
      inksOfOne.set(paints[0], inks);
    }
    return inks;
  }
  const tints = new Map<string, number>();
  for (const paint of paints) {
    for (const { key, tintRatio } of inkedTints(paint)) tints.set(key, Math.max(tints.get(key) ?? 0, tintRatio));
  }
  return [...tints].map(([key, tintRatio]) => ({ key, tintRatio }));
}

function hiddenReason(context: PageContext, facts: ObjectFacts): ArtObject['hidden'] {
  if (facts.layerOff) return 'layerOff';
  if (context.tileDepth > 0) return facts.composite.alpha <= 0 || facts.invisible ? 'transparent' : null;
  const page = { xMm: 0, yMm: 0, widthMm: context.widthMm, heightMm: context.heightMm };
  if (!intersectionOfBoxes(facts.boxMm, page)) return 'outsidePage';
  if (facts.clip) {
    const seen = facts.clip.boxMm && intersectionOfBoxes(facts.boxMm, facts.clip.boxMm);
    if (!seen) return 'clippedAway';
    if (!intersectionOfBoxes(seen, page)) return 'clippedAway';
  }
  if (facts.composite.alpha * context.group.alpha <= 0 || facts.invisible) return 'transparent';
  return null;
}
