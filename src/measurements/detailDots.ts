import type { BitPlane } from '../raster/bitPlane.ts';
import { squaredDistances } from '../raster/distanceMap.ts';
import { erasePart } from '../raster/floodPart.ts';
import { boxOfPixels, coarsePitchMm, type PixelGrid } from '../raster/pixelGrid.ts';
import { readWindow } from '../raster/window.ts';
import type { SpotPlace } from './detail.ts';
import type { Spots } from './detailSpots.ts';

/** From this ratio of length to breadth on, a small part is a short line. */
const lineAspect = 3;
/** The largest disc within a dot is at least this share of the disc of equal area; below, it is drawn with thin strokes. */
const leastFill = 0.5;
/** So few pixels have no strokes to tell. */
const specksPx = 12;
/** The last pixels of a clear corner may hang on by their own corners only. */
const cornerPixels = 4;
/** From this many pixels across on, what the pixels leave open averages out over the edge. */
const surePx = 6;

/**
 * Measures one small part. Null when it is no dot: broader than was searched for, or a short line, or drawn with
 * strokes.
 */
export function measureSpot(
  plane: BitPlane,
  inverted: boolean,
  spots: Spots,
  index: number,
  grid: PixelGrid,
  searchToMm: number,
): SpotPlace | null {
  const areaPx = spots.areasPx[index];
  const areaMm2 = areaPx * grid.pitchXMm * grid.pitchYMm;
  const equivalentDiameterMm = Math.sqrt((4 * areaMm2) / Math.PI);
  if (equivalentDiameterMm > searchToMm) return null;
  const left = spots.lefts[index];
  const top = spots.rows[index];
  const part = partWithin(plane, inverted, spots, index);
  if (areaPx <= cornerPixels && touchesOwnKind(part, inverted)) return null;
  const { aspect, shortMm } = axesOf(part, areaMm2, grid);
  if (aspect >= lineAspect) return null;
  const pitch = coarsePitchMm(grid);
  if (areaPx > specksPx && inscribedMm(part, grid) < leastFill * equivalentDiameterMm) return null;
  return {
    boxMm: boxOfPixels(grid, left, top, left + spots.widths[index], top + spots.heights[index]),
    areaMm2,
    equivalentDiameterMm,
    minWidthMm: Math.min(shortMm, equivalentDiameterMm),
    plusMinusMm: equivalentDiameterMm < surePx * pitch ? pitch : 0.5 * pitch,
  };
}

/** Takes a spot out of a plane: black becomes clear, or with `inverted` clear black. */
export function eraseSpot(plane: BitPlane, inverted: boolean, spots: Spots, index: number): void {
  erasePart(plane, spots.columns[index], spots.rows[index], inverted);
}

interface Part {
  /** 1 on the part; a clear margin of one pixel all round. */
  readonly pixels: Uint8Array;
  readonly widthPx: number;
  readonly heightPx: number;
  /** The plate's pixels in the same window. */
  readonly window: Uint8Array;
}

/** The spot alone, without neighbours that reach into its box. */
function partWithin(plane: BitPlane, inverted: boolean, spots: Spots, index: number): Part {
  const left = spots.lefts[index] - 1;
  const top = spots.rows[index] - 1;
  const widthPx = spots.widths[index] + 2;
  const heightPx = spots.heights[index] + 2;
  const window = readWindow(plane, left, top, widthPx, heightPx);
  const own = inverted ? 0 : 1;
  const pixels = new Uint8Array(window.length);
  // The part fills its box exactly, so nothing of it lies on the margin, which is closed while the part is followed.
  markMargin(pixels, widthPx, heightPx, 1);
  const start = widthPx + spots.columns[index] - left;
  const pending = [start];
  pixels[start] = 1;
  const steps = inverted
    ? [1, -1, widthPx, -widthPx]
    : [1, -1, widthPx, -widthPx, widthPx + 1, widthPx - 1, 1 - widthPx, -1 - widthPx];
  for (let at = pending.pop(); at !== undefined; at = pending.pop()) {
    for (const step of steps) {
      const next = at + step;
      if (pixels[next] === 1 || window[next] !== own) continue;
      pixels[next] = 1;
      pending.push(next);
    }
  }
  markMargin(pixels, widthPx, heightPx, 0);
  return { pixels, widthPx, heightPx, window };
}

function markMargin(pixels: Uint8Array, widthPx: number, heightPx: number, mark: 0 | 1): void {
  pixels.fill(mark, 0, widthPx);
  pixels.fill(mark, widthPx * (heightPx - 1));
  for (let at = 0; at < pixels.length; at += widthPx) {
    pixels[at] = mark;
    pixels[at + widthPx - 1] = mark;
  }
}

/** Whether a pixel of the same kind shares a corner with a part: possible for clear parts only. */
function touchesOwnKind({ pixels, widthPx, window }: Part, inverted: boolean): boolean {
  const own = inverted ? 0 : 1;
  const corners = [widthPx + 1, widthPx - 1, 1 - widthPx, -1 - widthPx];
  return pixels.some(
    (mark, at) => mark === 1 && corners.some((step) => pixels[at + step] === 0 && window[at + step] === own),
  );
}

/**
 * Ratio of the axes of the part's second moments, and the breadth of a shape with these. A bar and an ellipse of the
 * same moments differ in breadth and in area; the part's own area tells where between them it lies.
 */
function axesOf(
  { pixels, widthPx, heightPx }: Part,
  areaMm2: number,
  grid: PixelGrid,
): { aspect: number; shortMm: number } {
  let n = 0;
  let sumX = 0;
  let sumY = 0;
  let sumXX = 0;
  let sumYY = 0;
  let sumXY = 0;
  for (let row = 0, at = 0; row < heightPx; row++) {
    const y = row * grid.pitchYMm;
    for (let column = 0; column < widthPx; column++, at++) {
      if (pixels[at] === 0) continue;
      const x = column * grid.pitchXMm;
      n++;
      sumX += x;
      sumY += y;
      sumXX += x * x;
      sumYY += y * y;
      sumXY += x * y;
    }
  }
  // A twelfth of its square: the second moment of one pixel about its own centre.
  const xx = sumXX / n - (sumX / n) ** 2 + grid.pitchXMm ** 2 / 12;
  const yy = sumYY / n - (sumY / n) ** 2 + grid.pitchYMm ** 2 / 12;
  const xy = sumXY / n - (sumX / n) * (sumY / n);
  const spread = Math.hypot((xx - yy) / 2, xy);
  const long = (xx + yy) / 2 + spread;
  const short = Math.max((xx + yy) / 2 - spread, 1e-12);
  // A bar's area is 12·√(long · short) and its breadth √(12 · short); an ellipse's 4π·√(long · short) and 4·√short.
  const fill = areaMm2 / (12 * Math.sqrt(long * short));
  const roundness = Math.min(1, Math.max(0, (fill - 1) / (Math.PI / 3 - 1)));
  const bar = Math.sqrt(12 * short);
  return { aspect: Math.sqrt(long / short), shortMm: bar + roundness * (4 * Math.sqrt(short) - bar) };
}

/** Diameter of the largest disc within the part, to half a pixel and rather too large. */
function inscribedMm({ pixels, widthPx, heightPx }: Part, grid: PixelGrid): number {
  let most = 0;
  for (const squared of squaredDistances(pixels, widthPx, heightPx, grid.pitchYMm / grid.pitchXMm)) {
    if (squared > most) most = squared;
  }
  return (2 * Math.sqrt(most) - 0.2) * grid.pitchXMm;
}
