import { finestLineMm } from '../mesh/detailRules.ts';
import type { Check } from './check.ts';
import { narrowReadings } from './exactDetail.ts';
import { orFinerMesh } from './finerMesh.ts';
import { judgeAtLeast } from './judge.ts';
import { readSearch } from './narrowDetail.ts';
import { screenedParts } from './screenedParts.ts';
import { limitsOf, plateIn } from './subject.ts';
import { judgeTaper } from './taper.ts';
import { mm, mmUp, oneOrMany } from './words.ts';

/** A point may lose this much of its length before anybody need look. Common practice, no source for the figure. */
const mostLostTipMm = 1;

export const thinLine: Check<'breaks-up' | 'close-to-limit' | 'tapers-away'> = {
  id: 'thin-line',
  title: 'Every line is wide enough to print',
  failTitle: 'Some lines are too thin to print',
  asks: 'Is every printed line at least as wide as its mesh, or the ticket, asks?',
  sources: [
    { kind: 'published', citation: 'Garment printers’ art requirements: lines 1 pt, with metallic inks 2 pt' },
    {
      kind: 'commonPractice',
      statement: 'a line needs one mesh opening and two threads to survive, two pitches to be reliable',
    },
    { kind: 'houseRule', ticketPath: 'limits.minLineMm' },
  ],
  scope: 'plate',
  worse: 'less',
  limit: (ask, subject) => limitsOf(ask, plateIn(subject)).minLineMm,
  *measure(ask, subject) {
    const plate = plateIn(subject);
    yield* screenedParts(plate);
    const readings = narrowReadings(plate, 'lines', limitsOf(ask, plate).minLineMm.value);
    yield* readings;
    if (readings.some(({ narrowerThanMm }) => narrowerThanMm === undefined)) return;
    yield* readSearch(plate);
  },
  judge: (reading, limit) =>
    reading.narrowerThanMm !== undefined
      ? judgeTaper(reading, limit, mostLostTipMm, 'tapers-away', {
          point: 'a point',
          ends: 'The longest point thins out',
        })
      : judgeAtLeast(reading, limit, { beyond: 'breaks-up', close: 'close-to-limit' }),
  advice: {
    'breaks-up': {
      customer: ({ reading, limit, placesTotal }) =>
        `${oneOrMany(placesTotal, `A line in ${reading.inkNames[0]} will break up: it is ${mm(reading.value)} wide. Please thicken it`, `${placesTotal} lines in ${reading.inkNames[0]} will break up, the thinnest at ${mm(reading.value)}. Please thicken them`)} to at least ${mmUp(limit.value)}, or let us.`,
      printer: (context) => `Thicken to at least ${mmUp(context.limit.value)}${orFinerMesh(context, finestLineMm)}.`,
    },
    'close-to-limit': {
      customer: ({ reading, limit }) =>
        `A line in ${reading.inkNames[0]} is about ${mm(reading.value)} wide, at the edge of what prints. Please thicken it to ${mmUp(limit.value + reading.plusMinus)} to be safe, or send the vector file if this is not it.`,
      printer: ({ reading, limit }) =>
        `Measure the line on the film under the loupe: ${mm(reading.value)} ± ${mm(reading.plusMinus)} cannot settle ${mm(limit.value)}.`,
    },
    'tapers-away': {
      customer: ({ reading }) =>
        `Points in ${reading.inkNames[0]} will end up to ${mm(reading.value)} short, where they become too thin to print. If they must be that long, please make their tips blunter.`,
      printer: ({ reading }) =>
        `Points of ${reading.inkNames[0]} thin out to nothing over up to ${mm(reading.value)}, which will not print. Blunt the tips on the film if the length matters.`,
    },
  },
};
