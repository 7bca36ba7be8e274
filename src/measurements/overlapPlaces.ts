import type { Stretch } from '../raster/facedOutline.ts';
import type { BoundaryPlace } from './overlap.ts';
import type { MeasuredLength } from './overlapLength.ts';

const mostPlaces = 500;

/** Edges that fall together within this many pixels butt. */
const buttPx = 0.5;

export type Meeting = 'overlap' | 'butt' | 'gap';

/** Every stretch with its reading, edges that butt with 0. */
export function settledReadings(stretches: readonly Stretch[], pitchMm: number): MeasuredLength[] {
  return stretches.map((stretch) => ({
    overlapMm: meetingOf(stretch, pitchMm) === 'butt' ? 0 : stretch.overlapMm,
    lengthMm: stretch.lengthMm,
  }));
}

export function meetingOf(stretch: Stretch, pitchMm: number): Meeting {
  if (Math.abs(stretch.overlapMm) <= buttPx * pitchMm) return 'butt';
  return stretch.overlapMm > 0 ? 'overlap' : 'gap';
}

/** Neighbouring stretches of one outline that meet alike, joined to places; a place has its worst stretch's reading. */
export function groupPlaces(stretches: readonly Stretch[], meeting: Meeting, pitchMm: number): BoundaryPlace[] {
  const places: BoundaryPlace[] = [];
  let group: Stretch[] = [];
  let sumMm = 0;
  const close = (): void => {
    if (group.length > 0) places.push(placeOf(group, meeting));
    group = [];
    sumMm = 0;
  };
  let previous: Stretch | null = null;
  for (const stretch of stretches) {
    const follows = previous !== null && previous.run === stretch.run;
    previous = stretch;
    if (meetingOf(stretch, pitchMm) !== meeting) {
      close();
      continue;
    }
    if (group.length > 0) {
      const meanMm = sumMm / group.length;
      const alike = Math.abs(stretch.overlapMm - meanMm) <= Math.max(pitchMm, 0.1 * Math.abs(meanMm));
      if (!follows || (meeting !== 'butt' && !alike)) close();
    }
    group.push(stretch);
    sumMm += stretch.overlapMm;
  }
  close();
  return places;
}

function placeOf(group: readonly Stretch[], meeting: Meeting): BoundaryPlace {
  let lengthMm = 0;
  let worst = group[0];
  let leftMm = Infinity;
  let topMm = Infinity;
  let rightMm = -Infinity;
  let bottomMm = -Infinity;
  for (const stretch of group) {
    lengthMm += stretch.lengthMm;
    if (stretch.overlapMm < worst.overlapMm) worst = stretch;
    leftMm = Math.min(leftMm, stretch.leftMm);
    topMm = Math.min(topMm, stretch.topMm);
    rightMm = Math.max(rightMm, stretch.rightMm);
    bottomMm = Math.max(bottomMm, stretch.bottomMm);
  }
  const middle = meeting === 'butt' ? group[group.length >> 1] : worst;
  return {
    boxMm: { xMm: leftMm, yMm: topMm, widthMm: rightMm - leftMm, heightMm: bottomMm - topMm },
    xMm: middle.xMm,
    yMm: middle.yMm,
    overlapMm: meeting === 'butt' ? 0 : worst.overlapMm,
    lengthMm,
  };
}

/** The first 500 in the order given, ties by length, then from the top of the film down. */
export function worstFirst(
  places: readonly BoundaryPlace[],
  order: (a: BoundaryPlace, b: BoundaryPlace) => number,
): BoundaryPlace[] {
  return [...places]
    .sort((a, b) => order(a, b) || b.lengthMm - a.lengthMm || a.yMm - b.yMm || a.xMm - b.xMm)
    .slice(0, mostPlaces);
}
