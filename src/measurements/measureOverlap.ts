import type { BoxMm } from '../geometry/box.ts';
import type { Plate } from '../plates/plate.ts';
import type { BitPlane } from '../raster/bitPlane.ts';
import { edgedPlane } from '../raster/griddedPlane.ts';
import { pairOfPlanes } from '../raster/pairOfPlanes.ts';
import { coarsePitchMm } from '../raster/pixelGrid.ts';
import type { Overlap } from './overlap.ts';
import { walkBoundary } from './overlapBoundary.ts';
import { measureLeftOut } from './overlapLeftOut.ts';
import { lengthBins, lengthSpread, totalLengthMm } from './overlapLength.ts';
import { groupPlaces, meetingOf, settledReadings, worstFirst } from './overlapPlaces.ts';

export interface OverlapOptions {
  /** Overlaps and gaps wider than this are not sought. */
  readonly searchToMm: number;
  /** Registration marks, in the first plate's film space: no boundary is measured there. */
  readonly ignoreBoxes?: readonly BoxMm[];
  /** Screened areas of either plate: no boundary is measured there either, and what lies there is told as `leftOut`. */
  readonly screenedBoxes?: readonly BoxMm[];
  /** Other plates: clear film between the two that one of these prints on is no gap (an outline between fills). */
  readonly covers?: readonly Plate[];
  /** The two plates' edge cells when they have been found before (`findEdgeCells`). */
  readonly edgeCells?: readonly [BitPlane, BitPlane];
}

/** Less than so much of a pixel along the overlaps, or than so many pixels, is not told apart from none. */
const leastOverprintPx = 0.25;
const fewestPixels = 4;

/**
 * How two plates meet along their common boundary: overlap (trap), butt or gap, measured across the edge.
 *
 * Each outline of the first plate is followed where the second's edge is near. From it the way along the outward
 * normal to the second plate's facing edge is read; readings are gathered in stretches of about 0.75 mm by the mean of
 * their middle half. Corners take the reading of their sides; edges that cross at more than about 22° are not common
 * boundary, nor is an ink lying wholly on the other. Lengths are those of the line half way between the two edges.
 * `touchingLengthMm` is what overlaps or butts. Plates of different grids are laid over each other in millimetres.
 * Null when the two share no area and no boundary within `searchToMm`, measured or left out.
 */
export function measureOverlap(a: Plate, b: Plate, options: OverlapOptions): Overlap | null {
  const pitchMm = Math.max(coarsePitchMm(a.grid), coarsePitchMm(b.grid));
  const own = edgedPlane(a, options.edgeCells?.[0]);
  const other = edgedPlane(b, options.edgeCells?.[1]);
  const pair = pairOfPlanes(own, other);
  const { ignoreBoxes = [], screenedBoxes = [] } = options;
  const ignored = [...ignoreBoxes, ...screenedBoxes];
  const areaMm2 = pair.sharedAreaMm2();
  const { stretches, knockOuts, nearTiles } = walkBoundary(pair, {
    reachMm: options.searchToMm,
    ignoreBoxes: ignored,
    covers: options.covers ?? [],
    invertOther: false,
    seekStrips: false,
  });
  const leftOut = measureLeftOut(pair, screenedBoxes, nearTiles);
  if (areaMm2 === 0 && stretches.length === 0 && leftOut.outlineMm === 0) return null;
  const overlapping = stretches.filter((s) => meetingOf(s, pitchMm) === 'overlap');
  const butted = stretches.filter((s) => meetingOf(s, pitchMm) === 'butt');
  const gaping = stretches.filter((s) => meetingOf(s, pitchMm) === 'gap');
  let minMm = Infinity;
  let maxMm = 0;
  let trapAreaMm2 = 0;
  for (const { overlapMm, lengthMm } of overlapping) {
    minMm = Math.min(minMm, overlapMm);
    maxMm = Math.max(maxMm, overlapMm);
    trapAreaMm2 += overlapMm * lengthMm;
  }
  let gapMm = 0;
  for (const { overlapMm } of gaping) gapMm = Math.max(gapMm, -overlapMm);
  const buttedLengthMm = totalLengthMm(butted);
  const overlapLengthMm = totalLengthMm(overlapping);
  const readings = settledReadings(stretches, pitchMm);
  const notMeasured = ignoreBoxes.length === 0 ? leftOut : measureLeftOut(pair, ignored, nearTiles);
  const overprintMm2 = areaMm2 - notMeasured.sharedAreaMm2 - trapAreaMm2;
  const leastMm2 = pitchMm * Math.max(leastOverprintPx * overlapLengthMm, fewestPixels * pitchMm);
  const overprintAreaMm2 = overprintMm2 > leastMm2 ? overprintMm2 : 0;
  return {
    plateIds: [a.id, b.id],
    searchedToMm: options.searchToMm,
    plusMinusMm: pitchMm,
    touchingLengthMm: overlapLengthMm + buttedLengthMm,
    minOverlapMm: overlapping.length > 0 ? minMm : null,
    medianOverlapMm: lengthSpread(overlapping)?.medianMm ?? null,
    maxOverlapMm: overlapping.length > 0 ? maxMm : null,
    maxGapMm: gaping.length > 0 ? gapMm : null,
    buttedLengthMm,
    gapLengthMm: totalLengthMm(gaping),
    overlapByLength: lengthBins(readings),
    overlapSpread: lengthSpread(readings),
    sharedAreaMm2: areaMm2,
    trapAreaMm2,
    overprintAreaMm2,
    overprintPercent: [percentOf(overprintAreaMm2, a), percentOf(overprintAreaMm2, b)],
    knockOuts: { firstInSecond: knockOuts.own, secondInFirst: knockOuts.other },
    leftOut,
    overlaps: worstFirst(groupPlaces(stretches, 'overlap', pitchMm), (p, q) => p.overlapMm - q.overlapMm),
    butts: worstFirst(groupPlaces(stretches, 'butt', pitchMm), (p, q) => q.lengthMm - p.lengthMm),
    gaps: worstFirst(groupPlaces(stretches, 'gap', pitchMm), (p, q) => p.overlapMm - q.overlapMm),
  };
}

/** The share of what a plate prints that an area makes up. */
function percentOf(areaMm2: number, { grid, toneHistogram }: Plate): number {
  let opaquePx = 0;
  for (let tone = 128; tone < 256; tone++) opaquePx += toneHistogram[tone];
  const inkMm2 = opaquePx * grid.pitchXMm * grid.pitchYMm;
  return inkMm2 === 0 ? 0 : Math.min(100, (100 * areaMm2) / inkMm2);
}
