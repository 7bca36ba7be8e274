import type { Check } from './check.ts';
import { edgeIn, edgeReading, leftOutWords, placeOf, trapLimit } from './edge.ts';
import { judgeAtLeast } from './judge.ts';
import { mm, mmUp } from './words.ts';

export const shortTrap: Check<'overlap-too-small' | 'close-to-limit'> = {
  id: 'short-trap',
  title: 'Inks that meet overlap enough',
  failTitle: 'Some inks that meet overlap too little',
  asks: 'Where two inks overlap along an edge, is the overlap as wide as the trap asked for?',
  sources: [
    { kind: 'published', citation: 'A contract printer’s guide to separated files: half-point to one-point spreads' },
    { kind: 'commonPractice', statement: 'a trap covers what both inks may be off: 0.25 mm automatic, 0.5 mm by hand' },
    { kind: 'houseRule', ticketPath: 'limits.trapMm' },
  ],
  scope: 'pair',
  worse: 'less',
  limit: (ask, subject) => {
    const edge = edgeIn(ask, subject);
    if ('why' in edge) return edge;
    const limit = trapLimit(ask, edge.plates);
    return limit.value > 0 ? limit : { why: 'The trap asked for is 0: edges are to butt.' };
  },
  *measure(ask, subject) {
    const edge = edgeIn(ask, subject);
    if ('why' in edge) return;
    for (const place of edge.overlap.overlaps) {
      yield edgeReading(edge, { value: place.overlapMm, unit: 'mm', ...placeOf(place) });
    }
    if (edge.overlap.overlaps.length === 0) {
      yield { why: `${edge.inkNames[0]} and ${edge.inkNames[1]} overlap along no edge.${leftOutWords(edge)}` };
    }
  },
  judge: (reading, limit) => judgeAtLeast(reading, limit, { beyond: 'overlap-too-small', close: 'close-to-limit' }),
  advice: {
    'overlap-too-small': {
      customer: ({ reading, limit }) =>
        `Where ${reading.inkNames[0]} meets ${reading.inkNames[1]} we need an overlap of ${mm(limit.value)}; the art has ${mm(reading.value)}. May we add it? Edges move by less than a hair.`,
      printer: ({ reading, limit }) =>
        `Spread ${reading.inkNames[0]} by ${mmUp(limit.value - reading.value)} under ${reading.inkNames[1]}.`,
    },
    'close-to-limit': {
      customer: ({ reading, limit }) =>
        `Where ${reading.inkNames[0]} meets ${reading.inkNames[1]} the overlap is about ${mm(reading.value)}, and we like ${mm(limit.value)}. May we widen it a little?`,
      printer: ({ reading, limit }) =>
        `Measure this edge under the loupe: ${mm(reading.value)} ± ${mm(reading.plusMinus)} cannot settle ${mm(limit.value)}. Or spread ${reading.inkNames[0]} by ${mmUp(Math.max(0, limit.value - reading.value) + reading.plusMinus)} to be safe.`,
    },
  },
};
