import type { BitPlane } from '../raster/bitPlane.ts';
import type { EdgeFinder } from '../raster/edgeDistance.ts';
import { boxOfPixels, coarsePitchMm, type PixelGrid } from '../raster/pixelGrid.ts';
import type { NarrowPlace } from './detail.ts';
import { type Stretch, visitStretches } from './detailGraph.ts';
import { findRidges, type RidgeSearch } from './detailRidges.ts';
import { type Segment, segmentsOf } from './detailSegments.ts';
import { type FittedSpot, fitLike, narrowestFit } from './detailSpotFits.ts';

/** Widths taken from pixels alone may be so much too small. */
const mostOverRawPx = 2.5;
/** Where no edges can be followed a width may be amiss by so much more. */
const mostOffRaw = 1.5;

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
  const { finder, rowPitch } = context;
  const part = { stretch, segment, finder, rowPitch, limitPx: 1.5 * searchPx + 4 };
  const middle = medianPoint(stretch, segment);
  const rawMedianPx = stretch.widths[middle];
  const raw = rawSpot(stretch, segment, rawMedianPx, rawPlusMinusMm / pitch);
  const fitted = segment.isNeck ? null : narrowestFit(part, segment.minWidthPx < refineBelowPx);
  // A fit much broader than the narrowest spot is of another one: none could be laid there.
  const best = fitted !== null && fitted.widthPx <= raw.widthPx + mostOverRawPx ? fitted : raw;
  if (best.widthPx >= searchPx) return null;
  const laid = segment.isNeck ? null : fitLike(part, middle, fitted);
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

/** The narrowest spot by its pixels alone, good to a pixel where no edges can be followed for lack of length only. */
function rawSpot(stretch: Stretch, segment: Segment, medianPx: number, pixelPx: number): FittedSpot {
  const widthPx = rawWidth(stretch, segment);
  // Where edges cannot be followed otherwise, what is narrowest may be the end itself.
  const amissPx = segment.isNeck ? 0 : Math.max(pixelPx, Math.min(widthPx, medianPx - widthPx));
  return { index: segment.narrowest, widthPx, plusMinusPx: Math.max(pixelPx, mostOffRaw * amissPx) };
}

/** The width at the narrowest spot from its pixels alone; of several points, as one may be off by a pixel and more. */
function rawWidth({ widths }: Stretch, { from, to, narrowest, minWidthPx, isNeck }: Segment): number {
  if (isNeck || (narrowest > from && narrowest < to)) return minWidthPx;
  let sum = 0;
  let count = 0;
  for (let k = Math.max(from, narrowest - 2); k <= Math.min(to, narrowest + 2); k++, count++) sum += widths[k];
  return sum / count;
}

/** Points by their width, and how much of the length each stands for: broad parts have fewer of them. */
function medianPoint({ widths, along }: Stretch, { from, to }: Segment): number {
  const share = (k: number) => along[Math.min(to, k + 1)] - along[Math.max(from, k - 1)];
  let whole = 0;
  for (let k = from; k <= to; k++) whole += share(k);
  // The least width up to which points stand for half the length, by halving: sorting numbers is quick, points is not.
  const sorted = widths.slice(from, to + 1).sort();
  let low = 0;
  let high = sorted.length - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    let up = 0;
    for (let k = from; k <= to; k++) if (widths[k] <= sorted[middle]) up += share(k);
    if (2 * up >= whole) high = middle;
    else low = middle + 1;
  }
  // Of points of that width the one that makes up the half.
  let rest = whole / 2;
  for (let k = from; k <= to; k++) if (widths[k] < sorted[low]) rest -= share(k);
  let last = from;
  for (let k = from; k <= to && rest > 0; k++) {
    if (widths[k] !== sorted[low]) continue;
    rest -= share(k);
    last = k;
  }
  return last;
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
