import type { BoxMm } from '../geometry/box.ts';
import type { Plate } from '../plates/plate.ts';
import type { BitPlane } from '../raster/bitPlane.ts';
import { coarsePitchMm } from '../raster/pixelGrid.ts';
import type { Overlap } from './overlap.ts';
import { sharedAreaMm2 } from './overlapArea.ts';
import { walkBoundary } from './overlapBoundary.ts';
import { edgedPlane } from './overlapInk.ts';
import { groupPlaces, medianByLengthMm, meetingOf, totalLengthMm, worstFirst } from './overlapPlaces.ts';

export interface OverlapOptions {
  /** Overlaps and gaps wider than this are not sought. */
  readonly searchToMm: number;
  /** Screened areas of either plate, in the first plate's film space: no boundary is measured there. */
  readonly ignoreBoxes?: readonly BoxMm[];
  /** Other plates: clear film between the two that one of these prints on is no gap (an outline between fills). */
  readonly covers?: readonly Plate[];
  /** The two plates' edge cells when they have been found before (`findEdgeCells`). */
  readonly edgeCells?: readonly [BitPlane, BitPlane];
}

/**
 * How two plates meet along their common boundary: overlap (trap), butt or gap, measured across the edge.
 *
 * Each outline of the first plate is followed where the second's edge is near. From it the way along the outward
 * normal to the second plate's facing edge is read; readings are gathered in stretches of about 0.75 mm by the mean of
 * their middle half. Corners take the reading of their sides; edges that cross at more than about 22° are not common
 * boundary, nor is an ink lying wholly on the other. Lengths are those of the line half way between the two edges.
 * `touchingLengthMm` is what overlaps or butts. Plates of different grids are laid over each other in millimetres.
 * Null when the two share no area and no boundary within `searchToMm`.
 */
export function measureOverlap(a: Plate, b: Plate, options: OverlapOptions): Overlap | null {
  const pitchMm = Math.max(coarsePitchMm(a.grid), coarsePitchMm(b.grid));
  const own = edgedPlane(a, options.edgeCells?.[0]);
  const other = edgedPlane(b, options.edgeCells?.[1]);
  const areaMm2 = sharedAreaMm2(own, other);
  const stretches = walkBoundary(own, other, {
    reachMm: options.searchToMm,
    ignoreBoxes: options.ignoreBoxes ?? [],
    covers: options.covers ?? [],
    invertOther: false,
  });
  if (areaMm2 === 0 && stretches.length === 0) return null;
  const overlapping = stretches.filter((s) => meetingOf(s, pitchMm) === 'overlap');
  const butted = stretches.filter((s) => meetingOf(s, pitchMm) === 'butt');
  const gaping = stretches.filter((s) => meetingOf(s, pitchMm) === 'gap');
  let minMm = Infinity;
  let maxMm = 0;
  for (const { overlapMm } of overlapping) {
    minMm = Math.min(minMm, overlapMm);
    maxMm = Math.max(maxMm, overlapMm);
  }
  let gapMm = 0;
  for (const { overlapMm } of gaping) gapMm = Math.max(gapMm, -overlapMm);
  const buttedLengthMm = totalLengthMm(butted);
  return {
    plateIds: [a.id, b.id],
    searchedToMm: options.searchToMm,
    plusMinusMm: pitchMm,
    touchingLengthMm: totalLengthMm(overlapping) + buttedLengthMm,
    minOverlapMm: overlapping.length > 0 ? minMm : null,
    medianOverlapMm: medianByLengthMm(overlapping),
    maxOverlapMm: overlapping.length > 0 ? maxMm : null,
    maxGapMm: gaping.length > 0 ? gapMm : null,
    buttedLengthMm,
    gapLengthMm: totalLengthMm(gaping),
    sharedAreaMm2: areaMm2,
    overlaps: worstFirst(groupPlaces(stretches, 'overlap', pitchMm), (p, q) => p.overlapMm - q.overlapMm),
    butts: worstFirst(groupPlaces(stretches, 'butt', pitchMm), (p, q) => q.lengthMm - p.lengthMm),
    gaps: worstFirst(groupPlaces(stretches, 'gap', pitchMm), (p, q) => p.overlapMm - q.overlapMm),
  };
}
