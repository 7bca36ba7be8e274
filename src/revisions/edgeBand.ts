import type { CommonGrid } from '../plateArchive/compareTiles.ts';
import type { BitPlane } from '../raster/bitPlane.ts';
import { squaredDistances } from '../raster/distanceMap.ts';
import { readWindow } from '../raster/window.ts';

export interface WindowPx {
  readonly left: number;
  readonly top: number;
  readonly widthPx: number;
  readonly heightPx: number;
}

/** What differs along an edge of the art as a band of even width, as where lines were made thicker. */
export interface EdgeBand {
  /** Width of the band. */
  readonly widthMm: number;
  /** It runs on both sides of what it is on. */
  readonly isOnBothSides: boolean;
}

/** A wider band is a part of its own. */
const mostBandMm = 1.5;
/** A band is at least this many times as long as it is wide. */
const leastLength = 4;
const leastPixels = 12;

/**
 * Whether changed pixels within a window of a plate are a band along the edges of `ink`; null: they are not. Pixels that
 * do not touch it make no band.
 */
export function edgeBandIn(
  changed: BitPlane,
  ink: BitPlane,
  { pitchXMm, pitchYMm }: CommonGrid,
  { left, top, widthPx, heightPx }: WindowPx,
): EdgeBand | null {
  const isChanged = readWindow(changed, left, top, widthPx, heightPx);
  const bare = readWindow(ink, left, top, widthPx, heightPx).map((bit) => 1 - bit);
  const away = squaredDistances(bare, widthPx, heightPx, pitchYMm / pitchXMm).map(Math.sqrt);
  let [count, sum, most, least] = [0, 0, 0, Number.POSITIVE_INFINITY];
  let [pointX, pointY] = [0, 0];
  for (let at = 0; at < isChanged.length; at++) {
    if (isChanged[at] === 0) continue;
    count++;
    sum += away[at];
    most = Math.max(most, away[at]);
    least = Math.min(least, away[at]);
    // Which way the ink lies; along a line with bands on both sides these cancel out.
    const [dx, dy] = [away[at + 1] - away[at - 1], away[at + widthPx] - away[at - widthPx]];
    const length = Math.hypot(dx, dy);
    if (!(length > 0) || !Number.isFinite(length)) continue;
    pointX += dx / length;
    pointY += dy / length;
  }
  const touches = least <= 2;
  if (!touches || most * pitchXMm > mostBandMm || count < Math.max(leastPixels, leastLength * most * most)) return null;
  return {
    // Distances to the ink run from 1 to the width, in pixels.
    widthMm: ((2 * sum) / count - 1) * pitchXMm,
    isOnBothSides: Math.hypot(pointX, pointY) < count / 2,
  };
}
