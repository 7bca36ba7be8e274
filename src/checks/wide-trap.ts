import { lightnessOfHex } from '../colour/lab.ts';
import type { Check } from './check.ts';
import { edgeIn, edgeReading, leftOutWords, placeOf, roleOf } from './edge.ts';
import { judgeAtMost } from './judge.ts';
import { limitsOf } from './subject.ts';
import { mm, mmUp } from './words.ts';

/** Under black, and inks nearly as dark (L*), an overlap of any width is not seen. */
const keyLightness = 25;

export const wideTrap: Check<'overlap-shows' | 'close-to-limit'> = {
  id: 'wide-trap',
  title: 'No overlap is so wide that it shows',
  failTitle: 'Some overlaps are so wide that they show',
  asks: 'Where two colours overlap along an edge, is the overlap narrow enough not to show as a third colour?',
  sources: [
    { kind: 'published', citation: 'A printer’s trapping page: inside an outline, at most half its thinnest width' },
    { kind: 'houseRule', ticketPath: 'limits.maxTrapMm' },
  ],
  scope: 'pair',
  worse: 'more',
  limit: (ask, subject) => {
    const edge = edgeIn(ask, subject);
    if ('why' in edge) return edge;
    for (const { ink } of edge.plates) {
      if (roleOf(ask, ink.name) === 'key' || lightnessOfHex(ink.displayHex) < keyLightness) {
        return { why: `Overlaps under ${ink.name} do not show.` };
      }
    }
    const limits = edge.plates.map((plate) => limitsOf(ask, plate).maxTrapMm);
    return limits[0].value <= limits[1].value ? limits[0] : limits[1];
  },
  *measure(ask, subject) {
    const edge = edgeIn(ask, subject);
    if ('why' in edge) return;
    const { overlaps, maxOverlapMm } = edge.overlap;
    for (const place of overlaps) {
      yield edgeReading(edge, { value: place.overlapMm, unit: 'mm', ...placeOf(place) });
    }
    if (maxOverlapMm !== null && overlaps.every(({ overlapMm }) => overlapMm < maxOverlapMm)) {
      yield edgeReading(edge, { value: maxOverlapMm, unit: 'mm' });
    }
    if (maxOverlapMm === null)
      yield { why: `${edge.inkNames[0]} and ${edge.inkNames[1]} overlap along no edge.${leftOutWords(edge)}` };
  },
  judge: (reading, limit) => judgeAtMost(reading, limit, { beyond: 'overlap-shows', close: 'close-to-limit' }),
  advice: {
    'overlap-shows': {
      customer: ({ reading, limit }) =>
        `Where ${reading.inkNames[0]} meets ${reading.inkNames[1]} they overlap by ${mm(reading.value)}, which will show as a darker line. May we narrow it to ${mm(limit.value)}?`,
      printer: ({ reading, limit }) =>
        `Pull ${reading.inkNames[0]} back by ${mmUp(reading.value - limit.value)} under ${reading.inkNames[1]}, unless the mixed colour is wanted.`,
    },
    'close-to-limit': {
      customer: ({ reading }) =>
        `Where ${reading.inkNames[0]} meets ${reading.inkNames[1]} they overlap by about ${mm(reading.value)}. Is a darker line there all right?`,
      printer: ({ reading, limit }) =>
        `Look at a strike-off: an overlap of ${mm(reading.value)} ± ${mm(reading.plusMinus)} is at the edge of ${mm(limit.value)}.`,
    },
  },
};
