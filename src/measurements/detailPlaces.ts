import type { BitPlane } from '../raster/bitPlane.ts';
import type { EdgeFinder } from '../raster/edgeDistance.ts';
import { boxOfPixels, coarsePitchMm, type PixelGrid } from '../raster/pixelGrid.ts';
import type { NarrowPlace } from './detail.ts';
import { fitWidth } from './detailFit.ts';
import { type Stretch, visitStretches } from './detailGraph.ts';
import { findRidges, type RidgeSearch } from './detailRidges.ts';
import { type Segment, segmentsOf } from './detailSegments.ts';

/** How many of the narrowest spots of a fine place are fitted; one of a broader place. */
const fittedSpots = 5;
/** Widths taken from pixels alone may be so much too small. */
const mostOverRawPx = 2.5;

/**
 * The narrow stretches of a shape: lines for the opaque part of the plane, gaps with `inverted`. Narrowest first.
 * @param leftOut of some rows the pixels not to be looked at, or null
 * @param searchPx, refineBelowPx in units of a pixel's width
 */
export function findNarrowPlaces(
  shape: BitPlane,
  inverted: boolean,
  leftOut: RidgeSearch['leftOut'],
  grid: PixelGrid,
  searchPx: number,
  refineBelowPx: number,
): NarrowPlace[] {
  const rowPitch = grid.pitchYMm / grid.pitchXMm;
  const { fine, broad, finder } = findRidges(shape, { inverted, leftOut, searchPx, rowPitch });
  const places: NarrowPlace[] = [];
  const context: Context = { finder, grid, rowPitch, searchPx, refineBelowPx };
  visitStretches(fine, broad, rowPitch, (stretch) => {
    for (const segment of segmentsOf(stretch, searchPx)) {
      const place = placeOf(stretch, segment, context);
      if (place !== null) places.push(place);
    }
  });
  return places.sort((a, b) => a.minWidthMm - b.minWidthMm || a.yMm - b.yMm || a.xMm - b.xMm);
}

interface Context {
  readonly finder: EdgeFinder;
  readonly grid: PixelGrid;
  readonly rowPitch: number;
  readonly searchPx: number;
  readonly refineBelowPx: number;
}

function placeOf(stretch: Stretch, segment: Segment, context: Context): NarrowPlace | null {
  const { grid, searchPx, refineBelowPx } = context;
  const { narrowest } = segment;
  if (segment.minWidthPx > searchPx + 1) return null;
  const pitch = grid.pitchXMm;
  const rawPlusMinusMm = coarsePitchMm(grid);
  const common = {
    boxMm: boxOf(stretch, segment, grid),
    lengthMm: segment.lengthPx * pitch,
    directionDeg: directionOf(stretch, segment, grid),
  };
  if (segment.kind === 'taper') {
    return {
      kind: 'taper',
      ...common,
      xMm: stretch.xs[narrowest] * pitch,
      yMm: stretch.ys[narrowest] * grid.pitchYMm,
      minWidthMm: Math.max(0, segment.minWidthPx) * pitch,
      medianWidthMm: stretch.widths[medianPoint(stretch, segment)] * pitch,
      plusMinusMm: rawPlusMinusMm,
    };
  }
  const spots = segment.isNeck
    ? []
    : segment.minWidthPx < refineBelowPx
      ? narrowSpots(stretch, segment, fittedSpots)
      : [narrowest];
  const raw = { index: narrowest, widthPx: rawWidth(stretch, segment), plusMinusPx: rawPlusMinusMm / pitch };
  let fitted: typeof raw | null = null;
  for (const index of spots) {
    const fit = fitAt(stretch, segment, index, context);
    if (fit !== null && (fitted === null || fit.widthPx < fitted.widthPx)) fitted = { index, ...fit };
  }
  // A fit much broader than the narrowest spot is of another one: none could be laid there.
  const best = fitted !== null && fitted.widthPx <= raw.widthPx + mostOverRawPx ? fitted : raw;
  if (best.widthPx >= searchPx) return null;
  const middle = medianPoint(stretch, segment);
  const laid = segment.isNeck ? null : fitAt(stretch, segment, middle, context);
  const rawMedianPx = stretch.widths[middle];
  // Hard by an end the edges are too short to be followed, and what is laid along them may lie anywhere.
  const isLaid = laid !== null && Math.abs(laid.widthPx - rawMedianPx) <= Math.max(mostOverRawPx, 0.15 * rawMedianPx);
  return {
    kind: 'line',
    ...common,
    xMm: stretch.xs[best.index] * pitch,
    yMm: stretch.ys[best.index] * grid.pitchYMm,
    minWidthMm: best.widthPx * pitch,
    medianWidthMm: Math.max(best.widthPx, isLaid ? laid.widthPx : rawMedianPx) * pitch,
    plusMinusMm: best.plusMinusPx * pitch,
  };
}

/** The width at the narrowest spot from its pixels alone; of several points, as one may be off by a pixel and more. */
function rawWidth({ widths }: Stretch, { from, to, narrowest, minWidthPx, isNeck }: Segment): number {
  if (isNeck || (narrowest > from && narrowest < to)) return minWidthPx;
  let sum = 0;
  let count = 0;
  for (let k = Math.max(from, narrowest - 2); k <= Math.min(to, narrowest + 2); k++, count++) sum += widths[k];
  return sum / count;
}

function fitAt(stretch: Stretch, segment: Segment, index: number, context: Context) {
  // The direction is taken over about a width, at least four points: over less the pixel steps turn it.
  const reach = Math.max(4, Math.ceil(stretch.widths[index] / 2));
  const a = Math.max(segment.from, index - reach);
  const b = Math.min(segment.to, index + reach);
  const tangentX = stretch.xs[b] - stretch.xs[a];
  const tangentY = stretch.ys[b] - stretch.ys[a];
  if (tangentX === 0 && tangentY === 0) return null;
  return fitWidth(
    context.finder,
    stretch.xs[index],
    stretch.ys[index],
    tangentX,
    tangentY,
    context.rowPitch,
    1.5 * context.searchPx + 4,
  );
}

/** Points with the smallest widths, each the smallest within a width or so of itself. */
function narrowSpots(stretch: Stretch, segment: Segment, most: number): number[] {
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

/** Points by their width, and how much of the length each stands for: broad parts have fewer of them. */
function medianPoint(stretch: Stretch, { from, to }: Segment): number {
  const { widths, along } = stretch;
  const order = Array.from({ length: to - from + 1 }, (_, k) => from + k);
  order.sort((a, b) => widths[a] - widths[b] || a - b);
  const share = (k: number) => along[Math.min(to, k + 1)] - along[Math.max(from, k - 1)];
  let rest = order.reduce((sum, k) => sum + share(k), 0) / 2;
  for (const k of order) {
    rest -= share(k);
    if (rest <= 0) return k;
  }
  return order[order.length - 1];
}

function boxOf(stretch: Stretch, { from, to }: Segment, grid: PixelGrid) {
  const { xs, ys, widths } = stretch;
  const rowPitch = grid.pitchYMm / grid.pitchXMm;
  let left = Infinity;
  let top = Infinity;
  let right = -Infinity;
  let bottom = -Infinity;
  for (let k = from; k <= to; k++) {
    const half = widths[k] / 2;
    left = Math.min(left, xs[k] - half);
    right = Math.max(right, xs[k] + half);
    top = Math.min(top, ys[k] - half / rowPitch);
    bottom = Math.max(bottom, ys[k] + half / rowPitch);
  }
  return boxOfPixels(
    grid,
    Math.max(0, left),
    Math.max(0, top),
    Math.min(grid.widthPx, right),
    Math.min(grid.heightPx, bottom),
  );
}

/** Direction of the chord of the part, or of its narrowest spot where the part turns back on itself. */
function directionOf(stretch: Stretch, segment: Segment, grid: PixelGrid): number {
  const { xs, ys } = stretch;
  const rowPitch = grid.pitchYMm / grid.pitchXMm;
  let { from: a, to: b } = segment;
  if (Math.hypot(xs[b] - xs[a], (ys[b] - ys[a]) * rowPitch) < 0.5 * segment.lengthPx) {
    a = Math.max(segment.from, segment.narrowest - 8);
    b = Math.min(segment.to, segment.narrowest + 8);
  }
  const degrees = (Math.atan2(-(ys[b] - ys[a]) * rowPitch, xs[b] - xs[a]) * 180) / Math.PI;
  const turned = ((degrees % 180) + 180) % 180;
  return turned >= 180 ? 0 : turned;
}
