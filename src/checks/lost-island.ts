import { finestIslandMm } from '../mesh/detailRules.ts';
import type { Check } from './check.ts';
import { spotReadings } from './exactDetail.ts';
import { orFinerMesh } from './finerMesh.ts';
import { judgeAtLeast } from './judge.ts';
import { readSearch } from './narrowDetail.ts';
import { screenedParts } from './screenedParts.ts';
import { limitsOf, plateIn } from './subject.ts';
import { mm, mmUp, oneOrMany } from './words.ts';

export const lostIsland: Check<'washes-off' | 'close-to-limit'> = {
  id: 'lost-island',
  title: 'Every hole in a solid is large enough to hold',
  failTitle: 'Some holes in solids are too small to hold',
  asks: 'Is every clear hole in a solid large enough for its piece of stencil to hold on to the mesh?',
  sources: [
    {
      kind: 'commonPractice',
      statement:
        'a free-standing piece of stencil needs √2 mesh openings, and one opening with two threads, to sit on a crossing',
    },
    { kind: 'houseRule', ticketPath: 'limits.minIslandMm' },
  ],
  scope: 'plate',
  worse: 'less',
  limit: (ask, subject) => limitsOf(ask, plateIn(subject)).minIslandMm,
  *measure(_ask, subject) {
    const plate = plateIn(subject);
    yield* screenedParts(plate);
    yield* spotReadings(plate, 'islands');
    if (plate.detail.islands.length > 0) return;
    yield* readSearch(plate);
  },
  judge: (reading, limit) => judgeAtLeast(reading, limit, { beyond: 'washes-off', close: 'close-to-limit' }),
  advice: {
    'washes-off': {
      customer: ({ reading, limit, placesTotal }) =>
        oneOrMany(
          placesTotal,
          `A small hole in ${reading.inkNames[0]} will close up: it is ${mm(reading.value)} across. Please open it to at least ${mmUp(limit.value)} or fill it.`,
          `${placesTotal} small holes in ${reading.inkNames[0]} will close up, the smallest at ${mm(reading.value)}. Please open such holes to at least ${mmUp(limit.value)} or fill them.`,
        ),
      printer: (context) =>
        `${oneOrMany(context.placesTotal, 'This island of stencil washes off or fills in. Fill it, or open it', 'These islands of stencil wash off or fill in. Fill them, or open them')} to ${mmUp(context.limit.value)}${orFinerMesh(context, finestIslandMm)}.`,
    },
    'close-to-limit': {
      customer: ({ reading, limit }) =>
        `A hole in ${reading.inkNames[0]} is about ${mm(reading.value)} across, at the edge of what stays open. Please open it to ${mmUp(limit.value + reading.plusMinus)} to be safe, or send the vector file if this is not it.`,
      printer: ({ reading, limit }) =>
        `Measure the hole on the film under the loupe: ${mm(reading.value)} ± ${mm(reading.plusMinus)} cannot settle ${mm(limit.value)}.`,
    },
  },
};
