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
/** Directions in which a spot is measured across, in degrees. */
const caliperStepDeg = 10;

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
  if (areaPx <= cornerPixels && part.touchesOwnKind) return null;
  const { longMm, shortMm, aspect } = axesOfPart(part, grid);
  if (aspect >= lineAspect) return null;
  if (areaPx > specksPx) {
    const inscribedMm = inscribedDiameterMm(part, grid);
    if (inscribedMm < leastFill * equivalentDiameterMm) return null;
  }
  const pitch = coarsePitchMm(grid);
  return {
    boxMm: boxOfPixels(grid, left, top, left + spots.widths[index], top + spots.heights[index]),
    areaMm2,
    equivalentDiameterMm,
    minWidthMm: Math.min(shortMm, longMm, equivalentDiameterMm),
    plusMinusMm: equivalentDiameterMm < 5 * pitch ? pitch : 0.5 * pitch,
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
  /** Whether a pixel of the same kind shares a corner with it: possible for clear parts only. */
  readonly touchesOwnKind: boolean;
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
      const column = next % widthPx;
      // The part fills its box exactly, so nothing of it lies on the margin.
      if (column === 0 || column === widthPx - 1 || next < widthPx || next >= widthPx * (heightPx - 1)) continue;
      pixels[next] = 1;
      pending.push(next);
    }
  }
  let touchesOwnKind = false;
  const corners = [widthPx + 1, widthPx - 1, 1 - widthPx, -1 - widthPx];
  for (let at = 0; at < pixels.length && !touchesOwnKind; at++) {
    if (pixels[at] === 1) touchesOwnKind = corners.some((step) => pixels[at + step] === 0 && window[at + step] === own);
  }
  return { pixels, widthPx, heightPx, touchesOwnKind };
}

/** Smallest and largest extent over all directions, and the ratio of the axes of equal second moments. */
function axesOfPart({ pixels, widthPx }: Part, grid: PixelGrid): { longMm: number; shortMm: number; aspect: number } {
  const xs: number[] = [];
  const ys: number[] = [];
  for (let at = 0; at < pixels.length; at++) {
    if (pixels[at] === 0) continue;
    const column = at % widthPx;
    xs.push(column * grid.pitchXMm);
    ys.push(((at - column) / widthPx) * grid.pitchYMm);
  }
  let shortMm = Infinity;
  let longMm = 0;
  for (let angle = 0; angle < 180; angle += caliperStepDeg) {
    const cos = Math.cos((angle * Math.PI) / 180);
    const sin = Math.sin((angle * Math.PI) / 180);
    let least = Infinity;
    let most = -Infinity;
    for (let k = 0; k < xs.length; k++) {
      const along = xs[k] * cos + ys[k] * sin;
      if (along < least) least = along;
      if (along > most) most = along;
    }
    // Edges pass half-way between pixel centres; across the diagonal these lie closer together.
    const extent = most - least + 1 / (Math.abs(cos) / grid.pitchXMm + Math.abs(sin) / grid.pitchYMm);
    shortMm = Math.min(shortMm, extent);
    longMm = Math.max(longMm, extent);
  }
  const n = xs.length;
  const mean = (list: readonly number[]) => list.reduce((sum, value) => sum + value, 0) / n;
  const [mx, my] = [mean(xs), mean(ys)];
  const xx = mean(xs.map((x) => (x - mx) ** 2)) + grid.pitchXMm ** 2 / 12;
  const yy = mean(ys.map((y) => (y - my) ** 2)) + grid.pitchYMm ** 2 / 12;
  const xy = mean(xs.map((x, k) => (x - mx) * (ys[k] - my)));
  const spread = Math.hypot((xx - yy) / 2, xy);
  const half = (xx + yy) / 2;
  return { longMm, shortMm, aspect: Math.sqrt((half + spread) / Math.max(half - spread, 1e-12)) };
}

function inscribedDiameterMm({ pixels, widthPx, heightPx }: Part, grid: PixelGrid): number {
  const distances = squaredDistances(pixels, widthPx, heightPx, grid.pitchYMm / grid.pitchXMm);
  let most = 0;
  for (const squared of distances) if (squared > most) most = squared;
  return (2 * Math.sqrt(most) - 1) * grid.pitchXMm;
}
