import type { BoxMm } from '../geometry/box.ts';
import type { Plate } from '../plates/plate.ts';
import { edgedPlane } from '../raster/griddedPlane.ts';
import { pairOfPlanes } from '../raster/pairOfPlanes.ts';
import { coarsePitchMm } from '../raster/pixelGrid.ts';
import type { BoundaryPlace, UnderbaseFit } from './overlap.ts';
import { walkBoundary } from './overlapBoundary.ts';
import { lengthBins, lengthSpread, totalLengthMm } from './overlapLength.ts';
import { groupPlaces, settledReadings, worstFirst } from './overlapPlaces.ts';
import { bareAreaMm2 } from './underbaseAreas.ts';
import { bareFinder, largestFirst } from './underbaseBare.ts';
import { StripFinder } from './underbaseStrips.ts';
import { unionOnGrid } from './underbaseUnion.ts';

export interface UnderbaseOptions {
  /** Chokes and strips of visible base wider than this are not sought. */
  readonly searchToMm: number;
  /** Screened areas and registration marks, in the base's film space: left out. */
  readonly ignoreBoxes?: readonly BoxMm[];
}

/**
 * How a base plate lies under the plates printed on it, read along the outer edge of everything those plates print.
 * Where the base ends inside that edge the inset is the choke (0: flush); where it ends outside, within `searchToMm`,
 * it peeks. Base that runs on further prints on its own by design and is no peek but `exposed`; nor is base seen through
 * a slit between two plates. `unbased` are parts of the plates further than `searchToMm` from any base; `bareStrips` are
 * strips without base however near one is. Areas are counted in the base's pixels, marks and screened parts included.
 * `minChokeMm` and `medianChokeMm` cover flush and inset edges, not the peeks. Coordinates are the base plate's.
 */
export function measureUnderbase(base: Plate, tops: readonly Plate[], options: UnderbaseOptions): UnderbaseFit {
  const { searchToMm, ignoreBoxes = [] } = options;
  let pitchMm = coarsePitchMm(base.grid);
  for (const top of tops) pitchMm = Math.max(pitchMm, coarsePitchMm(top.grid));
  const colours = unionOnGrid(base, tops);
  const strips = new StripFinder(pitchMm);
  // The clear film of the base meets the colours as another ink would: it laps over them by the choke.
  const { stretches } = walkBoundary(
    pairOfPlanes(edgedPlane(colours), edgedPlane(base)),
    { reachMm: searchToMm, ignoreBoxes, covers: [], invertOther: true, seekStrips: true },
    (readings) => strips.take(readings),
  );
  const readings = settledReadings(stretches, pitchMm);
  const inset = readings.filter(({ overlapMm }) => overlapMm >= 0);
  let minMm = Infinity;
  for (const { overlapMm } of inset) minMm = Math.min(minMm, overlapMm);
  const chokes = [...groupPlaces(stretches, 'butt', pitchMm), ...groupPlaces(stretches, 'overlap', pitchMm)];
  const peeks = groupPlaces(stretches, 'gap', pitchMm).map(
    (place): BoundaryPlace => ({ ...place, overlapMm: -place.overlapMm }),
  );
  const bareOf = bareFinder(base, searchToMm, ignoreBoxes);
  return {
    basePlateId: base.id,
    topPlateIds: tops.map((top) => top.id),
    plusMinusMm: pitchMm,
    minChokeMm: inset.length > 0 ? minMm : null,
    medianChokeMm: lengthSpread(inset)?.medianMm ?? null,
    insetLengthMm: totalLengthMm(readings.filter(({ overlapMm }) => overlapMm > 0)),
    flushLengthMm: totalLengthMm(readings.filter(({ overlapMm }) => overlapMm === 0)),
    peekLengthMm: totalLengthMm(readings.filter(({ overlapMm }) => overlapMm < 0)),
    chokeByLength: lengthBins(readings),
    chokeSpread: lengthSpread(readings),
    peeks: worstFirst(peeks, (p, q) => q.overlapMm - p.overlapMm),
    chokes: worstFirst(chokes, (p, q) => p.overlapMm - q.overlapMm),
    unbased: largestFirst(tops.flatMap((top) => bareOf(top).map((part) => ({ ...part, plateId: top.id })))),
    bareStrips: strips.strips(tops),
    tops: tops.map((top) => ({ plateId: top.id, ...bareAreaMm2(top, base) })),
    exposedAreaMm2: bareAreaMm2(base, colours).bareAreaMm2,
    exposed: largestFirst(bareFinder(colours, searchToMm, ignoreBoxes)(base)),
  };
}
