import type { ArtPart } from './artParts.ts';

/** How a part of the art came from one revision to the next. */
export interface MatchedPart {
  readonly before: ArtPart;
  readonly after: ArtPart;
  readonly kind: 'same' | 'moved' | 'resized';
}

/** Moments and areas of one shape drawn twice differ by no more than this share, besides a pixel at the edge. */
const sameShapeWithin = 0.03;
/** Sides of a shape drawn twice differ by no more than so many pixels. */
const sameSidePx = 2.5;
/** Nearer than this a part lies where it lay. */
const samePlaceMm = 0.2;
/** A part is called resized, not thickened, when it is no mere line. */
export const lineWidthMm = 3;
const lineRatio = 4;
const leastScaling = 0.015;
/** Anything further apart than this many times its size is another part. */
const mostTimesAway = 3;

/**
 * Matches parts of two revisions by size, area and second moments: the same in place, the same elsewhere (the nearest),
 * or scaled. Each part is matched once; what is left was changed in another way.
 */
export function matchParts(before: readonly ArtPart[], after: readonly ArtPart[], pitchMm: number): MatchedPart[] {
  const [freeBefore, freeAfter] = [new Set(before), new Set(after)];
  const found: MatchedPart[] = [];
  const take = (fits: (one: ArtPart, other: ArtPart) => MatchedPart['kind'] | null) => {
    const candidates: (MatchedPart & { readonly apartMm: number })[] = [];
    for (const one of freeBefore)
      for (const other of freeAfter) {
        if (one.isHole !== other.isHole) continue;
        const kind = fits(one, other);
        if (kind !== null) candidates.push({ before: one, after: other, kind, apartMm: apartMm(one, other) });
      }
    for (const { before: one, after: other, kind } of candidates.sort((a, b) => a.apartMm - b.apartMm)) {
      if (!freeBefore.has(one) || !freeAfter.has(other)) continue;
      freeBefore.delete(one);
      freeAfter.delete(other);
      found.push({ before: one, after: other, kind });
    }
  };
  const isNear = (one: ArtPart, other: ArtPart) =>
    apartMm(one, other) <= 5 + mostTimesAway * Math.max(one.widthMm, one.heightMm);
  take((one, other) =>
    !isScaled(one, other, 1, 1, pitchMm)
      ? null
      : apartMm(one, other) <= Math.max(samePlaceMm, 2 * pitchMm)
        ? 'same'
        : 'moved',
  );
  take((one, other) => (isNear(one, other) && isResized(one, other, pitchMm) ? 'resized' : null));
  return found;
}

function apartMm(one: ArtPart, other: ArtPart): number {
  return Math.hypot(other.centreXMm - one.centreXMm, other.centreYMm - one.centreYMm);
}

function isResized(one: ArtPart, other: ArtPart, pitchMm: number): boolean {
  const [x, y] = [other.widthMm / one.widthMm, other.heightMm / one.heightMm];
  const uncertain = (2 * pitchMm) / Math.min(one.widthMm, one.heightMm);
  if (Math.max(Math.abs(x - 1), Math.abs(y - 1)) < leastScaling + uncertain) return false;
  const isUniform = Math.abs(x / y - 1) <= leastScaling + uncertain;
  const [short, long] = [one.widthMm, one.heightMm].sort((a, b) => a - b);
  if (!isUniform && (short < lineWidthMm || long / short > lineRatio)) return false;
  return isScaled(one, other, x, y, pitchMm);
}

/** Whether a part is another one scaled by so much, across and down, as far as its box, area and moments tell. */
function isScaled(one: ArtPart, other: ArtPart, x: number, y: number, pitchMm: number): boolean {
  const sidesMm = sameSidePx * pitchMm;
  if (Math.abs(other.widthMm - x * one.widthMm) > sidesMm || Math.abs(other.heightMm - y * one.heightMm) > sidesMm)
    return false;
  const edgeMm2 = pitchMm * (other.widthMm + other.heightMm);
  const isAlike = (value: number, wanted: number, more: number, scale = wanted) =>
    Math.abs(value - wanted) <= sameShapeWithin * Math.abs(scale) + more;
  const spread = x * y * Math.sqrt(one.momentXX * one.momentYY);
  return (
    isAlike(other.areaMm2, x * y * one.areaMm2, edgeMm2) &&
    isAlike(other.momentXX, x * x * one.momentXX, pitchMm * other.widthMm) &&
    isAlike(other.momentYY, y * y * one.momentYY, pitchMm * other.heightMm) &&
    isAlike(other.momentXY, x * y * one.momentXY, pitchMm * Math.hypot(other.widthMm, other.heightMm), spread)
  );
}
