import type { Reading } from '../findings/finding.ts';
import { finestDotMm } from '../mesh/detailRules.ts';
import type { PlateFacts } from './ask.ts';
import type { Check } from './check.ts';
import { spotReadings } from './exactDetail.ts';
import { orFinerMesh } from './finerMesh.ts';
import { judgeAtLeast } from './judge.ts';
import { readSearch } from './narrowDetail.ts';
import { screenedParts } from './screenedParts.ts';
import { limitsOf, plateIn, plateReading } from './subject.ts';
import { mm, mmUp, oneOrMany } from './words.ts';

const scattered = 'scattered dots';

export const smallDot: Check<'washes-out' | 'close-to-limit' | 'scattered-too-fine'> = {
  id: 'small-dot',
  title: 'Every dot is large enough to print',
  failTitle: 'Some dots are too small to print',
  asks: 'Is every free-standing dot of ink large enough to print through its mesh?',
  sources: [
    {
      kind: 'commonPractice',
      statement: 'a dot needs one mesh opening and two threads to keep most of its ink wherever it falls on the weave',
    },
    { kind: 'houseRule', ticketPath: 'limits.minDotMm' },
  ],
  scope: 'plate',
  worse: 'less',
  limit: (ask, subject) => limitsOf(ask, plateIn(subject)).minDotMm,
  *measure(ask, subject) {
    const plate = plateIn(subject);
    yield* screenedParts(plate);
    // The floor without a mesh is for dots that stand alone, not for tones made of many.
    if (limitsOf(ask, plate).minDotMm.from !== 'default') yield* scatteredDots(plate);
    yield* spotReadings(plate, 'dots');
    if (plate.detail.dots.length > 0) return;
    yield* readSearch(plate);
  },
  judge: (reading, limit) =>
    judgeAtLeast(reading, limit, {
      beyond: reading.detail?.startsWith(scattered) ? 'scattered-too-fine' : 'washes-out',
      close: 'close-to-limit',
    }),
  advice: {
    'washes-out': {
      customer: ({ reading, limit, placesTotal }) =>
        oneOrMany(
          placesTotal,
          `A dot in ${reading.inkNames[0]} will print patchily or not at all: it is ${mm(reading.value)} across. Please enlarge it to at least ${mmUp(limit.value)} or drop it.`,
          `${placesTotal} dots in ${reading.inkNames[0]} will print patchily or not at all, the smallest at ${mm(reading.value)}. Please enlarge such dots to at least ${mmUp(limit.value)} or drop them.`,
        ),
      printer: (context) =>
        `Enlarge the ${oneOrMany(context.placesTotal, 'dot', 'dots')} to ${mmUp(context.limit.value)}${orFinerMesh(context, finestDotMm)}.`,
    },
    'scattered-too-fine': {
      customer: ({ reading, limit }) =>
        `The tones in ${reading.inkNames[0]} are made of scattered dots of ${mm(reading.value)}, which print patchily. Please output them with dots of at least ${mmUp(limit.value)}.`,
      printer: (context) =>
        `Output the scattered dots at ${mmUp(context.limit.value)} or larger${orFinerMesh(context, finestDotMm)}.`,
    },
    'close-to-limit': {
      customer: ({ reading, limit }) =>
        `A dot in ${reading.inkNames[0]} is about ${mm(reading.value)} across, at the edge of what prints. Please enlarge it to ${mmUp(limit.value + reading.plusMinus)} to be safe, or send the vector file if this is not it.`,
      printer: ({ reading, limit }) =>
        `Measure the dot on the film under the loupe: ${mm(reading.value)} ± ${mm(reading.plusMinus)} cannot settle ${mm(limit.value)}.`,
    },
  },
};

/** The dots of tones made of scattered ones, each as a disc of its area; their side is known to half a pixel. */
function scatteredDots(plate: PlateFacts): readonly Reading[] {
  return plate.halftone.regions.flatMap(({ kind, dotPitchMm, boxMm }) => {
    if (kind !== 'fm' || dotPitchMm === null) return [];
    const roundPerSide = 2 / Math.sqrt(Math.PI);
    const value = dotPitchMm * roundPerSide;
    const plusMinus = (plate.grid.pitchXMm / 2) * roundPerSide;
    return [
      plateReading(plate, { value, unit: 'mm', plusMinus, boxMm, detail: `${scattered}, ${mm(dotPitchMm)} square` }),
    ];
  });
}
