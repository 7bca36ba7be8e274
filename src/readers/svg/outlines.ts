import type { ClipOutline, Outline } from '../../artwork/outline.ts';
import { containsBox } from '../../geometry/box.ts';
import { closePath, curveTo, lineTo, moveTo, type PathRange, PathStore } from '../../geometry/pathStore.ts';
import type { Pen } from '../../geometry/pen.ts';
import type { Clip, Item, Leaf, Stroke } from './displayList.ts';
import { cubicOf, type Path, transformedPath } from './paths.ts';

/** The exact outlines of leaves, for those whose look depends on nothing but paths. */
export function outlinesOf(items: readonly Item[]): (leaf: Leaf) => Outline | undefined {
  const store = new PathStore();
  const clips = new Map<Clip, readonly ClipOutline[] | null>();
  // What stands in a group is blended or masked with it, and tiles of a pattern lie elsewhere too.
  const plain = new Set(items.filter((item): item is Leaf => item.type === 'leaf').map(({ index }) => index));
  return (leaf) => {
    const isPath = leaf.kind === 'fill' || leaf.kind === 'stroke';
    if (!isPath || !plain.has(leaf.index) || leaf.paint?.kind !== 'flat') return undefined;
    if (leaf.opacityRatio !== 1 || leaf.blendMode !== 'normal' || leaf.boxMm === null) return undefined;
    const cutting: ClipOutline[] = [];
    for (const clip of leaf.clips) {
      if (clip.isRectangle && clip.boxMm !== null && containsBox(clip.boxMm, leaf.boxMm)) continue;
      let own = clips.get(clip);
      if (own === undefined) {
        own = clipOutlines(clip, store);
        clips.set(clip, own);
      }
      if (own === null) return undefined;
      cutting.push(...own);
    }
    return {
      paths: store,
      path: storedPath(store, transformedPath(leaf.path, leaf.matrix)),
      evenOdd: leaf.kind === 'fill' && leaf.fillRule === 'evenodd',
      pen: leaf.stroke === null ? null : penOf(leaf.stroke, leaf),
      clips: cutting,
      clears: 'others',
    };
  };
}

/** A clip of one filled shape, with the clips of its own; null for any other. */
function clipOutlines({ shapes, within }: Clip, store: PathStore): ClipOutline[] | null {
  const [only] = shapes;
  if (shapes.length !== 1 || only.type !== 'leaf' || only.kind !== 'fill' || only.clips.length > 0) return null;
  const path = storedPath(store, transformedPath(only.path, only.matrix));
  const outlines: ClipOutline[] = [{ path, evenOdd: only.fillRule === 'evenodd' }];
  for (const outer of within) {
    const own = clipOutlines(outer, store);
    if (own === null) return null;
    outlines.push(...own);
  }
  return outlines;
}

const caps: Readonly<Record<string, Pen['cap']>> = { round: 1, square: 2 };
const joins: Readonly<Record<string, Pen['join']>> = { round: 1, bevel: 2 };

function penOf(stroke: Stroke, { matrix }: Leaf): Pen {
  // A list of an odd number of dashes is gone through twice (SVG 2, 13.5.6).
  const dash = stroke.dashes.length % 2 === 1 ? [...stroke.dashes, ...stroke.dashes] : stroke.dashes;
  return {
    width: stroke.width,
    cap: caps[stroke.cap] ?? 0,
    join: joins[stroke.join] ?? 0,
    miterLimit: stroke.miterLimit,
    dash,
    dashPhase: stroke.dashOffset,
    matrix,
  };
}

function storedPath(store: PathStore, path: Path): PathRange {
  let x = 0;
  let y = 0;
  for (const step of path) {
    const numbers = step.slice(1) as number[];
    if (step[0] === 'Z') store.add(closePath);
    else if (step[0] === 'M') store.add(moveTo, ...numbers);
    else if (step[0] === 'L') store.add(lineTo, ...numbers);
    else store.add(curveTo, ...(step[0] === 'C' ? numbers : cubicOf(x, y, numbers)));
    if (numbers.length > 0) [x, y] = numbers.slice(-2);
  }
  return store.take();
}
