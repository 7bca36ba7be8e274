import { finestDotMm } from '../mesh/detailRules.ts';
import type { Check } from './check.ts';
import { spotReadings } from './exactDetail.ts';
import { orFinerMesh } from './finerMesh.ts';
import { judgeAtLeast } from './judge.ts';
import { readSearch, screenedUnmeasured } from './narrowDetail.ts';
import { limitsOf, plateIn } from './subject.ts';
import { mm, mmUp, oneOrMany } from './words.ts';

export const smallDot: Check<'washes-out' | 'close-to-limit'> = {
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
  *measure(_ask, subject) {
    const plate = plateIn(subject);
    yield* screenedUnmeasured(plate);
    yield* spotReadings(plate, 'dots');
    if (plate.detail.dots.length > 0) return;
    yield* readSearch(plate);
  },
  judge: (reading, limit) => judgeAtLeast(reading, limit, { beyond: 'washes-out', close: 'close-to-limit' }),
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
    'close-to-limit': {
      customer: ({ reading, limit }) =>
        `A dot in ${reading.inkNames[0]} is about ${mm(reading.value)} across, at the edge of what prints. Please enlarge it to ${mmUp(limit.value + reading.plusMinus)} to be safe, or send the vector file if this is not it.`,
      printer: ({ reading, limit }) =>
        `Measure the dot on the film under the loupe: ${mm(reading.value)} ± ${mm(reading.plusMinus)} cannot settle ${mm(limit.value)}.`,
    },
  },
};
