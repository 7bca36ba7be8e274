import { finestGapMm } from '../mesh/detailRules.ts';
import type { Check } from './check.ts';
import { narrowReadings } from './exactDetail.ts';
import { orFinerMesh } from './finerMesh.ts';
import { judgeAtLeast } from './judge.ts';
import { readSearch } from './narrowDetail.ts';
import { screenedParts } from './screenedParts.ts';
import { limitsOf, plateIn } from './subject.ts';
import { judgeTaper } from './taper.ts';
import { mm, mmUp, oneOrMany } from './words.ts';

/** A notch may fill this far before anybody need look: it shows less than a tip cut short. Common practice, no source. */
const mostFilledNotchMm = 2;

export const thinGap: Check<'fills-in' | 'close-to-limit' | 'closes-to-a-point'> = {
  id: 'thin-gap',
  title: 'Every gap is wide enough to stay open',
  failTitle: 'Some gaps are too narrow to stay open',
  asks: 'Is every clear gap inside or between the blacks wide enough to stay open when the ink spreads?',
  sources: [
    {
      kind: 'published',
      citation: 'Garment printers’ art requirements: reversed lines 2 pt, with metallic inks 3 pt',
    },
    {
      kind: 'commonPractice',
      statement: 'a gap needs one mesh opening, two threads and the ink’s spread from both edges',
    },
    { kind: 'houseRule', ticketPath: 'limits.minGapMm' },
  ],
  scope: 'plate',
  worse: 'less',
  limit: (ask, subject) => limitsOf(ask, plateIn(subject)).minGapMm,
  *measure(ask, subject) {
    const plate = plateIn(subject);
    yield* screenedParts(plate);
    const readings = narrowReadings(plate, 'gaps', limitsOf(ask, plate).minGapMm.value);
    yield* readings;
    if (readings.some(({ narrowerThanMm }) => narrowerThanMm === undefined)) return;
    yield* readSearch(plate);
  },
  judge: (reading, limit) =>
    reading.narrowerThanMm !== undefined
      ? judgeTaper(reading, limit, mostFilledNotchMm, 'closes-to-a-point', {
          point: 'a notch',
          ends: 'The longest notch closes',
        })
      : judgeAtLeast(reading, limit, { beyond: 'fills-in', close: 'close-to-limit' }),
  advice: {
    'fills-in': {
      customer: ({ reading, limit, placesTotal }) =>
        oneOrMany(
          placesTotal,
          `A gap in ${reading.inkNames[0]} will fill with ink: it is ${mm(reading.value)} wide. Please open it to at least ${mmUp(limit.value)}, or tell us to close it.`,
          `${placesTotal} gaps in ${reading.inkNames[0]} will fill with ink, the narrowest at ${mm(reading.value)}. Please open them to at least ${mmUp(limit.value)}, or tell us to close them.`,
        ),
      printer: (context) =>
        `Choke ${context.reading.inkNames[0]} along ${oneOrMany(context.placesTotal, 'this gap, to open it', 'these gaps, to open them')} by ${mmUp(context.limit.value - context.reading.value)} to ${mmUp(context.limit.value)}${orFinerMesh(context, (mesh) => finestGapMm(mesh))}.`,
    },
    'close-to-limit': {
      customer: ({ reading, limit }) =>
        `A gap in ${reading.inkNames[0]} is about ${mm(reading.value)} wide, at the edge of what stays open. Please open it to ${mmUp(limit.value + reading.plusMinus)} to be safe, or send the vector file if this is not it.`,
      printer: ({ reading, limit }) =>
        `Measure the gap on the film under the loupe: ${mm(reading.value)} ± ${mm(reading.plusMinus)} cannot settle ${mm(limit.value)}.`,
    },
    'closes-to-a-point': {
      customer: ({ reading }) =>
        `Narrow points of clear shirt in ${reading.inkNames[0]} will fill in over up to their last ${mm(reading.value)}. If they must stay open, please cut them off blunt.`,
      printer: ({ reading }) =>
        `Notches in ${reading.inkNames[0]} close to nothing over up to ${mm(reading.value)}, which will fill with ink. Cut them off blunt on the film if the art needs them open.`,
    },
  },
};
