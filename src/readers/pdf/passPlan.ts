import { speaksOf } from './channels.ts';
import { type Paint, tintOf } from './paint.ts';
import type { Composite, SceneItem } from './scene.ts';

/** Most inks one pass can carry: red, green and blue. */
export const maxChannels = 3;

/** How an object that leaves some channels of a pass alone is drawn there. */
export type MixedMeans = 'multiply' | 'whiten' | 'eraseThenMultiply' | 'impossible';

/**
 * Painting some channels and leaving others, in one go. White under Multiply and black under Screen change nothing, so
 * a solid is exact by the one, a cleared channel by the other, and a tint by clearing first and multiplying after.
 */
export function meansFor(
  paint: Paint,
  channels: readonly string[],
  composite: Composite,
  inGroup: boolean,
): MixedMeans {
  switch (composite.blendMode) {
    case 'Multiply':
    case 'Darken':
      return 'multiply';
    case 'Screen':
    case 'Lighten':
      return 'whiten';
    case 'Normal': {
      let solid = true;
      let clear = true;
      for (const key of channels) {
        const tint = tintOf(paint, key);
        if (tint === null) continue;
        if (tint !== 1) solid = false;
        if (tint !== 0) clear = false;
      }
      if (solid) return 'multiply';
      if (inGroup) return 'impossible';
      if (clear) return 'whiten';
      return composite.alpha === 1 && !composite.softMask ? 'eraseThenMultiply' : 'impossible';
    }
    default:
      return 'impossible';
  }
}

/**
 * Sorts inks into passes so that no object has to leave one ink of a pass alone while it paints another in a way that
 * cannot be drawn at once. Answers lists of at most three keys; each key is in one.
 */
export function groupKeys(items: readonly SceneItem[], keys: readonly string[]): string[][] {
  const conflicts = new Set<string>();
  collectConflicts(items, keys, false, conflicts, new Map());
  const groups: string[][] = [];
  for (const key of keys) {
    const group = groups.find(
      (members) => members.length < maxChannels && members.every((other) => !conflicts.has(pairOf(key, other))),
    );
    if (group) group.push(key);
    else groups.push([key]);
  }
  return groups;
}

function pairOf(a: string, b: string): string {
  return a < b ? `${a}\n${b}` : `${b}\n${a}`;
}

function collectConflicts(
  items: readonly SceneItem[],
  keys: readonly string[],
  inGroup: boolean,
  conflicts: Set<string>,
  seen: Map<Paint, Set<Composite>>,
): void {
  const clash = (painted: readonly string[], left: readonly string[]) => {
    for (const a of painted) for (const b of left) conflicts.add(pairOf(a, b));
  };
  const meet = (paint: Paint | null, composite: Composite, isText: boolean) => {
    if (!paint || !hasLeft(paint)) return;
    let composites = seen.get(paint);
    if (composites?.has(composite) && !inGroup && !isText) return;
    if (!composites) {
      composites = new Set();
      seen.set(paint, composites);
    }
    composites.add(composite);
    const left = keys.filter((key) => tintOf(paint, key) === null);
    const painted = keys.filter((key) => tintOf(paint, key) !== null);
    const means = meansFor(paint, painted, composite, inGroup);
    if (means === 'multiply' || means === 'whiten' || (means === 'eraseThenMultiply' && !isText)) return;
    const inGroupOrAlpha =
      composite.blendMode === 'Normal' ? painted.filter((key) => tintOf(paint, key) !== 1) : painted;
    clash(inGroupOrAlpha, left);
  };
  for (const item of items) {
    switch (item.type) {
      case 'fill':
      case 'stroke':
        meet(item.paint, item.composite, false);
        break;
      case 'text':
        for (const show of item.line.shows) {
          meet(show.fillPaint, item.composite, true);
          meet(show.strokePaint, item.composite, true);
        }
        break;
      case 'image':
        if (item.paint) {
          // A stencil drawn twice could cover other pixels the second time.
          meet(item.paint, item.composite, true);
          break;
        }
        if (item.leavesOthers && item.image.space && needsPasses(item.composite)) {
          const { space } = item.image;
          const painted = keys.filter((key) => speaksOf(space, key));
          const left = keys.filter((key) => !speaksOf(space, key));
          clash(painted, left);
        }
        break;
      case 'shading':
        if (item.leavesOthers && needsPasses(item.composite)) {
          const { space } = item.shading;
          const painted = keys.filter((key) => speaksOf(space, key));
          const left = keys.filter((key) => !speaksOf(space, key));
          clash(painted, left);
        }
        break;
      case 'group':
        collectConflicts(item.items, keys, true, conflicts, seen);
        break;
      case 'tiles':
        collectConflicts(item.items, keys, inGroup, conflicts, seen);
        break;
    }
  }
}

function needsPasses(composite: Composite): boolean {
  return !['Multiply', 'Darken', 'Screen', 'Lighten'].includes(composite.blendMode);
}

function hasLeft(paint: Paint): boolean {
  if (paint.everywhere !== null) return false;
  if (paint.leavesOthers) return true;
  for (const tint of paint.named.values()) if (tint === null) return true;
  return false;
}
