import { type BoxMm, grownBox, unionOfBoxes } from '../geometry/box.ts';
import type { CommonGrid } from '../plateArchive/compareTiles.ts';
import { type BitPlane, bitAt } from '../raster/bitPlane.ts';
import type { ArtPart } from './artParts.ts';
import type { MatchedPart } from './matchParts.ts';

/** Parts that were moved or resized alike. A point p of the earlier art within `wasBox` lies at `offset + factor · p` now. */
export interface Transform {
  readonly kind: MatchedPart['kind'];
  readonly parts: readonly MatchedPart[];
  readonly box: BoxMm;
  readonly wasBox: BoxMm;
  readonly factor: { readonly x: number; readonly y: number };
  readonly offsetMm: { readonly x: number; readonly y: number };
  /** Nothing but holes: what lies in them says more. */
  readonly isHoles: boolean;
}

const sameMoveMm = 0.08;
const sameFactorWithin = 0.02;

export function boxOf({ leftMm, topMm, widthMm, heightMm }: ArtPart): BoxMm {
  return { xMm: leftMm, yMm: topMm, widthMm, heightMm };
}

/** Gathers matched parts by how they moved, or were scaled. */
export function transformsOf(matched: readonly MatchedPart[]): Transform[] {
  const groups: MatchedPart[][] = [];
  for (const part of [...matched].sort((a, b) => b.after.areaMm2 - a.after.areaMm2)) {
    const group = groups.find(([first]) => isAlike(first, part));
    if (group === undefined) groups.push([part]);
    else group.push(part);
  }
  return groups.map(transformOf);
}

/** The largest part, which is the first, tells the transform best. */
function transformOf(parts: readonly MatchedPart[]): Transform {
  const [{ kind, before, after }] = parts;
  const factor = factorOf(parts[0]);
  return {
    kind,
    parts,
    box: parts.map((part) => boxOf(part.after)).reduce(unionOfBoxes),
    wasBox: parts.map((part) => boxOf(part.before)).reduce(unionOfBoxes),
    factor,
    offsetMm: { x: after.centreXMm - factor.x * before.centreXMm, y: after.centreYMm - factor.y * before.centreYMm },
    isHoles: parts.every((part) => part.after.isHole),
  };
}

function factorOf({ kind, before, after }: MatchedPart): { x: number; y: number } {
  if (kind !== 'resized') return { x: 1, y: 1 };
  const factor = { x: after.widthMm / before.widthMm, y: after.heightMm / before.heightMm };
  const mean = Math.sqrt(factor.x * factor.y);
  return Math.abs(factor.x / factor.y - 1) < sameFactorWithin ? { x: mean, y: mean } : factor;
}

function isAlike(one: MatchedPart, other: MatchedPart): boolean {
  if (one.kind !== other.kind) return false;
  if (one.kind !== 'resized') {
    const [a, b] = [one, other].map(({ before, after }) => ({
      x: after.centreXMm - before.centreXMm,
      y: after.centreYMm - before.centreYMm,
    }));
    return Math.hypot(a.x - b.x, a.y - b.y) <= sameMoveMm;
  }
  const [a, b] = [factorOf(one), factorOf(other)];
  const within = sameFactorWithin + 0.2 / Math.min(other.before.widthMm, other.before.heightMm);
  return Math.abs(a.x / b.x - 1) <= within && Math.abs(a.y / b.y - 1) <= within;
}

export interface Planes {
  readonly grid: CommonGrid;
  readonly before: BitPlane;
  readonly after: BitPlane;
}

/**
 * Takes out of what is gone and added whatever a transform accounts for: what was added came from where the earlier art
 * has ink, and what is gone lies where the later one has it.
 */
export function takeOutExplained(transform: Transform, planes: Planes, gone: BitPlane, added: BitPlane): void {
  const { grid, before, after } = planes;
  const boxes =
    transform.kind !== 'resized'
      ? [transform]
      : transform.parts.map((part) => ({
          box: boxOf(part.after),
          wasBox: boxOf(part.before),
          factor: transform.factor,
          offsetMm: {
            x: part.after.centreXMm - transform.factor.x * part.before.centreXMm,
            y: part.after.centreYMm - transform.factor.y * part.before.centreYMm,
          },
        }));
  for (const { box, wasBox, factor, offsetMm } of boxes) {
    const within = grownBox(unionOfBoxes(box, wasBox), 3 * grid.pitchXMm);
    const offset = { x: offsetMm.x / grid.pitchXMm, y: offsetMm.y / grid.pitchYMm };
    clearWhere(gone, grid, within, (x, y) => {
      const [toX, toY] = [offset.x + factor.x * (x + 0.5), offset.y + factor.y * (y + 0.5)];
      return isNear(after, Math.floor(toX), Math.floor(toY));
    });
    clearWhere(added, grid, within, (x, y) => {
      const [fromX, fromY] = [(x + 0.5 - offset.x) / factor.x, (y + 0.5 - offset.y) / factor.y];
      return isNear(before, Math.floor(fromX), Math.floor(fromY));
    });
  }
}

/** Whether a pixel or one beside it is opaque: a transform is known to within a pixel. */
function isNear(plane: BitPlane, column: number, row: number): boolean {
  for (let y = row - 1; y <= row + 1; y++)
    for (let x = column - 1; x <= column + 1; x++) if (bitAt(plane, x, y) === 1) return true;
  return false;
}

function clearWhere(
  plane: BitPlane,
  { pitchXMm, pitchYMm }: CommonGrid,
  { xMm, yMm, widthMm, heightMm }: BoxMm,
  isExplained: (column: number, row: number) => boolean,
): void {
  const first = Math.max(0, Math.floor(xMm / pitchXMm)) >> 5;
  const last = Math.min(plane.widthPx - 1, Math.ceil((xMm + widthMm) / pitchXMm)) >> 5;
  const bottom = Math.min(plane.heightPx - 1, Math.ceil((yMm + heightMm) / pitchYMm));
  for (let row = Math.max(0, Math.floor(yMm / pitchYMm)); row <= bottom; row++)
    for (let word = first; word <= last; word++) {
      const at = row * plane.wordsPerRow + word;
      if (plane.words[at] === 0) continue;
      for (let bit = 0; bit < 32; bit++)
        if ((plane.words[at] >>> bit) & 1 && isExplained(32 * word + bit, row)) plane.words[at] &= ~(1 << bit);
    }
}
