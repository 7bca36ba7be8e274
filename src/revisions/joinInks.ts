import { type BoxMm, grownBox, intersectionOfBoxes, unionOfBoxes } from '../geometry/box.ts';
import type { ArtChange, ArtChangeKind } from './artChange.ts';

/** A change as one plate shows it. */
export interface OneInkChange extends Omit<ArtChange, 'inkNames' | 'box'> {
  readonly inkName: string;
  readonly box: BoxMm;
  /** Only holes of the plate moved or grew: what lies in them tells it. */
  readonly isHoles: boolean;
  /** A hole that closed or opened. */
  readonly isInInk: boolean;
}

const sameMoveMm = 0.15;
const sameFactorWithin = 0.03;
const nearMm = 3;
/** Boxes of one thing on two plates differ by a trap at most. */
const sameBoxMm = 0.6;
const sameAreaWithin = 0.15;

/**
 * Tells each change once, whatever number of plates shows it: what one ink lost and another gained at one place is
 * recoloured; a hole that closed behind what went away, or moved with what lies in it, is no change of its own.
 */
export function joinInks(
  found: readonly OneInkChange[],
  inks: { readonly added: readonly string[]; readonly removed: readonly string[] },
): ArtChange[] {
  const left = new Set([...found].sort((a, b) => Number(a.isHoles) - Number(b.isHoles) || b.areaMm2 - a.areaMm2));
  const joined: ArtChange[] = [];
  for (const gone of [...left].filter(({ kind }) => kind === 'removed')) {
    const came = [...left].find(
      (one) => one.kind === 'added' && one.inkName !== gone.inkName && isSameThing(one, gone),
    );
    if (came === undefined) continue;
    // A hole closed behind what was taken away, or opened for what was added.
    if (came.isInInk) left.delete(came);
    else if (gone.isInInk) left.delete(gone);
    else {
      left.delete(came);
      left.delete(gone);
      joined.push({ ...plain(came), kind: 'recoloured', wasInkName: gone.inkName });
    }
  }
  for (const [kind, names] of [
    ['inkAdded', inks.added],
    ['inkRemoved', inks.removed],
  ] as const)
    for (const inkName of names) {
      const own = [...left].filter((one) => one.inkName === inkName);
      for (const one of own) left.delete(one);
      if (own.length === 0) continue;
      const box = own.map((one) => one.box).reduce(unionOfBoxes);
      joined.push({ kind, inkNames: [inkName], box, areaMm2: own.reduce((sum, one) => sum + one.areaMm2, 0) });
    }
  while (left.size > 0) {
    const [first] = left;
    left.delete(first);
    const alike = [...left].filter((one) => isSameChange(first, one));
    for (const one of alike) left.delete(one);
    const all = [first, ...alike];
    const shown = all.filter(({ kind, isHoles }) => kind === first.kind && (!isHoles || first.isHoles));
    const { wasBox } = first;
    joined.push({
      ...plain(first),
      inkNames: [...new Set(shown.map(({ inkName }) => inkName))],
      box: all.map(({ box }) => box).reduce(unionOfBoxes),
      ...(wasBox && { wasBox: all.map((one) => one.wasBox ?? one.box).reduce(unionOfBoxes) }),
      areaMm2: Math.max(...all.map(({ areaMm2 }) => areaMm2)),
    });
  }
  return joined;
}

function plain({ inkName, isHoles: _holes, isInInk: _in, ...change }: OneInkChange): ArtChange {
  return { ...change, inkNames: [inkName] };
}

function isSameThing(one: OneInkChange, other: OneInkChange): boolean {
  return isSameBox(one.box, other.box) && Math.abs(one.areaMm2 / other.areaMm2 - 1) <= sameAreaWithin;
}

function isSameBox(one: BoxMm, other: BoxMm): boolean {
  return (
    Math.abs(one.xMm - other.xMm) <= sameBoxMm &&
    Math.abs(one.yMm - other.yMm) <= sameBoxMm &&
    Math.abs(one.xMm + one.widthMm - other.xMm - other.widthMm) <= sameBoxMm &&
    Math.abs(one.yMm + one.heightMm - other.yMm - other.heightMm) <= sameBoxMm
  );
}

/** What a hole in another plate does while something in it grows or shrinks. */
const counterparts: Partial<Record<ArtChangeKind, ArtChangeKind>> = { thickened: 'thinned', thinned: 'thickened' };

function isSameChange(first: OneInkChange, other: OneInkChange): boolean {
  const isOther = first.inkName !== other.inkName;
  if (isOther && counterparts[first.kind] === other.kind) return other.isInInk && isSameBox(first.box, other.box);
  if (first.kind !== other.kind) return false;
  const isNear = intersectionOfBoxes(grownBox(first.box, nearMm), other.box) !== null;
  if (first.movedMm !== undefined && other.movedMm !== undefined)
    return isNear && Math.hypot(first.movedMm.x - other.movedMm.x, first.movedMm.y - other.movedMm.y) <= sameMoveMm;
  if (first.factor !== undefined && other.factor !== undefined)
    return (
      isNear &&
      Math.abs(first.factor.x / other.factor.x - 1) <= sameFactorWithin &&
      Math.abs(first.factor.y / other.factor.y - 1) <= sameFactorWithin
    );
  return isOther && isSameBox(first.box, other.box);
}
