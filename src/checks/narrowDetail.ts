import type { Reading, Unmeasured } from '../findings/finding.ts';
import type { NarrowPlace, SpotPlace } from '../measurements/detail.ts';
import type { PlateFacts } from './ask.ts';
import type { NotApplicable } from './check.ts';
import { isBlank, plateReading, plateUnmeasured } from './subject.ts';
import { mm } from './words.ts';

/** A reading of a narrow place: its width, or for a taper the length that is narrower than was searched for. */
export function narrowReading(plate: PlateFacts, place: NarrowPlace): Reading {
  const spot = { boxMm: place.boxMm, focusMm: { xMm: place.xMm, yMm: place.yMm } };
  if (place.kind === 'taper') {
    return plateReading(plate, {
      ...spot,
      value: place.lengthMm,
      unit: 'mm',
      plusMinus: taperPlusMinusMm(place),
      narrowerThanMm: plate.detail.searchedToMm,
    });
  }
  return plateReading(plate, {
    ...spot,
    value: place.minWidthMm,
    unit: 'mm',
    plusMinus: place.plusMinusMm,
    ...(place.softOverMm === undefined ? {} : { detail: `Its edges are soft over ${mm(place.softOverMm)}.` }),
  });
}

/**
 * How well the length of a taper is known: where its width passes a value is as uncertain as the width, along sides that
 * part slowly the more. Its sides are straight, so it is twice as broad at its broad end as in its middle.
 */
function taperPlusMinusMm({ lengthMm, medianWidthMm, plusMinusMm }: NarrowPlace): number {
  return plusMinusMm * Math.max(1, lengthMm / Math.max(2 * medianWidthMm, plusMinusMm));
}

/** A reading of a dot or an island: the diameter of a disc of its area. */
export function spotReading(plate: PlateFacts, place: SpotPlace): Reading {
  return plateReading(plate, {
    value: place.equivalentDiameterMm,
    unit: 'mm',
    plusMinus: place.plusMinusMm,
    boxMm: place.boxMm,
  });
}

/**
 * What there is to say when nothing narrow was found: the search itself is the reading. A plate of light tints only has
 * no black to search, and one of halftone only nothing but dots that were left out; of a blank one that could not be drawn
 * completely nothing is known, and nothing is said.
 */
export function* readSearch(plate: PlateFacts): Iterable<Reading | Unmeasured | NotApplicable> {
  if (isBlank(plate)) {
    if (plate.verified) yield { why: `${plate.ink.name} has no ink.` };
    return;
  }
  if (plate.opacity.inkedBoxMm === null) {
    yield plateUnmeasured(plate, `${plate.ink.name} is drawn so light that it has no black to measure.`);
    return;
  }
  if (isAllHalftone(plate)) {
    yield { why: `All ink of ${plate.ink.name} is halftone, whose dots are for the checks of halftones to judge.` };
    return;
  }
  yield plateReading(plate, {
    value: plate.detail.searchedToMm,
    unit: 'mm',
    plusMinus: 0,
    atLeast: true,
    detail: `Nothing under ${mm(plate.detail.searchedToMm)} was found.`,
  });
}

/** Edges of a halftone may leave so much of the ink of a plate that has nothing else. */
const mostBesides = 0.02;

/** Whether the dots of halftones make up the ink of a plate. */
function isAllHalftone({ opacity, grid, halftone }: PlateFacts): boolean {
  const inkMm2 = (opacity.coveragePercent / 100) * grid.widthPx * grid.pitchXMm * grid.heightPx * grid.pitchYMm;
  const dotsMm2 = halftone.regions
    .filter(({ kind }) => kind !== 'pattern')
    .flatMap(({ areaByToneMm2 }) => areaByToneMm2.map((areaMm2, tonePercent) => (areaMm2 * tonePercent) / 100))
    .reduce((sum, mm2) => sum + mm2, 0);
  return dotsMm2 > 0 && dotsMm2 >= (1 - mostBesides) * inkMm2;
}
