import type { EdgeFinder } from '../raster/edgeDistance.ts';
import { type FittedWidth, fitPlainWidth } from './detailFit.ts';
import type { Stretch } from './detailGraph.ts';
import type { Segment } from './detailSegments.ts';
import { fitTightWidth } from './detailTight.ts';

/** How many of the narrowest spots of a fine place are fitted; one of a broader place. */
const fittedSpots = 5;
/** Widths taken from pixels that differ by no more than this are alike. */
const alikePx = 0.5;
/** Means of several such widths that differ by more do not by chance. */
const surelyPx = 0.4;

/** Part of a stretch, and how to find its edges. */
export interface StretchPart {
  readonly stretch: Stretch;
  readonly segment: Segment;
  readonly finder: EdgeFinder;
  readonly rowPitch: number;
  /** Edges further from the middle line than this are not sought. */
  readonly limitPx: number;
}

export interface FittedSpot extends FittedWidth {
  /** Point of the stretch. */
  readonly index: number;
}

/** The narrowest spot of a part by its edges; null where they can be followed at none. */
export function narrowestFit(part: StretchPart, isFine: boolean): FittedSpot | null {
  const { widths } = part.stretch;
  const spots = isFine ? narrowSpots(part, fittedSpots) : [part.segment.narrowest];
  const plain = spots.map((index) => fitAt(part, index, fitPlainWidth));
  const known = narrowestOf(widths, plain);
  const meanOf = (index: number) => meanAround(widths, index, part.segment);
  const tight = spots.map((index, k) => {
    // By its pixels no narrower than one that is known well: it need not be followed from pixel to pixel.
    if (plain[k] !== null || (known !== null && meanOf(index) > meanOf(known.index) - surelyPx)) return null;
    return fitAt(part, index, fitTightWidth);
  });
  return narrowestOf(widths, [known, ...tight]);
}

/**
 * The width at a point, its median say; where the edges are hard to follow there, that of a spot which is as wide by its
 * pixels. Null where they cannot be followed.
 */
export function fitLike(part: StretchPart, index: number, spot: FittedSpot | null): FittedWidth | null {
  const { widths } = part.stretch;
  const plain = fitAt(part, index, fitPlainWidth);
  if (plain !== null) return plain;
  if (spot !== null && widths[index] - widths[spot.index] <= alikePx) return spot;
  return fitAt(part, index, fitTightWidth);
}

function narrowestOf(widths: Float64Array, spots: readonly (FittedSpot | null)[]): FittedSpot | null {
  let best: FittedSpot | null = null;
  for (const spot of spots) if (spot !== null && (best === null || isNarrower(widths, spot, best))) best = spot;
  return best;
}

/** Of spots that are alike the better known one, as the least of several fits is the most mistaken one. */
function isNarrower(widths: Float64Array, one: FittedSpot, other: FittedSpot): boolean {
  const apartPx = one.widthPx - other.widthPx;
  const areAlike =
    Math.abs(widths[one.index] - widths[other.index]) <= alikePx &&
    Math.abs(apartPx) <= (one.plusMinusPx + other.plusMinusPx) / 2;
  return apartPx + (areAlike ? one.plusMinusPx - other.plusMinusPx : 0) < 0;
}

function fitAt(
  { stretch, segment, finder, rowPitch, limitPx }: StretchPart,
  index: number,
  fitWidth: typeof fitPlainWidth,
): FittedSpot | null {
  const { xs, ys } = stretch;
  // The direction is taken over about a width, at least four points: over less the pixel steps turn it.
  const reach = Math.max(4, Math.ceil(stretch.widths[index] / 2));
  const a = Math.max(segment.from, index - reach);
  const b = Math.min(segment.to, index + reach);
  const tangentX = xs[b] - xs[a];
  const tangentY = ys[b] - ys[a];
  if (tangentX === 0 && tangentY === 0) return null;
  const fit = fitWidth(finder, xs[index], ys[index], tangentX, tangentY, rowPitch, limitPx);
  return fit === null ? null : { index, widthPx: fit.widthPx, plusMinusPx: fit.plusMinusPx };
}

/** Points with the smallest widths, each the smallest within a width or so of itself. */
function narrowSpots({ stretch, segment }: StretchPart, most: number): number[] {
  const { widths } = stretch;
  const blocks: number[] = [];
  const reach = Math.max(8, Math.round(segment.minWidthPx));
  const means: number[] = [];
  for (let k = segment.spotsFrom; k <= segment.spotsTo; k += reach) {
    let lowest = k;
    let least = Infinity;
    for (let j = k; j <= Math.min(segment.spotsTo, k + reach - 1); j++) {
      const mean = meanAround(widths, j, segment);
      if (mean >= least) continue;
      least = mean;
      lowest = j;
    }
    means[lowest] = least;
    blocks.push(lowest);
  }
  blocks.sort((a, b) => means[a] - means[b] || a - b);
  return [segment.narrowest, ...blocks.filter((index) => index !== segment.narrowest).slice(0, most - 1)];
}

function meanAround(widths: Float64Array, index: number, { from, to }: Segment): number {
  const reach = Math.min(2, index - from, to - index);
  let sum = 0;
  for (let k = index - reach; k <= index + reach; k++) sum += widths[k];
  return sum / (2 * reach + 1);
}
