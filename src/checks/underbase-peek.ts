import type { Check } from './check.ts';
import { judgeAtLeast } from './judge.ts';
import { plateById } from './plates.ts';
import { limitsOf, plateReading } from './subject.ts';
import { mm, mmUp } from './words.ts';

export const underbasePeek: Check<'base-peeks-out' | 'choke-too-small' | 'close-to-limit'> = {
  id: 'underbase-peek',
  title: 'The base stays back from the edges of its colours',
  failTitle: 'The base comes too near the edges of its colours, or past them',
  asks: 'Is the base pulled in from the edges of the colours above it by the choke asked for?',
  sources: [
    {
      kind: 'published',
      citation: 'A contract printer’s guide to separated files: base choked by 1 pt, ½ pt where the art forces it',
    },
    {
      kind: 'commonPractice',
      statement: 'a choke covers what base and colour may be off: 0.25 mm automatic, 0.5 mm by hand',
    },
    { kind: 'houseRule', ticketPath: 'limits.chokeMm' },
  ],
  scope: 'job',
  worse: 'less',
  limit: (ask) =>
    ask.underbase === null
      ? { why: 'The job has no base.' }
      : limitsOf(ask, plateById(ask, ask.underbase.basePlateId)).chokeMm,
  *measure(ask) {
    const { basePlateId, topPlateIds, plusMinusMm, peeks, chokes, minChokeMm } = ask.underbase!;
    const base = plateById(ask, basePlateId);
    const common = { unit: 'mm', plusMinus: plusMinusMm, plateIds: [basePlateId, ...topPlateIds] } as const;
    for (const { boxMm, xMm, yMm, overlapMm } of peeks) {
      yield plateReading(base, { ...common, value: -overlapMm, boxMm, focusMm: { xMm, yMm } });
    }
    for (const { boxMm, xMm, yMm, overlapMm } of chokes) {
      yield plateReading(base, { ...common, value: overlapMm, boxMm, focusMm: { xMm, yMm } });
    }
    if (peeks.length + chokes.length > 0) return;
    if (minChokeMm !== null) yield plateReading(base, { ...common, value: minChokeMm });
    else yield { why: 'The edges of the base and of the colours above it nowhere run together.' };
  },
  judge: (reading, limit) =>
    judgeAtLeast(reading, limit, {
      beyond: reading.value < 0 ? 'base-peeks-out' : 'choke-too-small',
      close: 'close-to-limit',
    }),
  advice: {
    'base-peeks-out': {
      customer: ({ reading, limit }) =>
        `The ${reading.inkNames[0]} under your colours would peek out by ${mm(-reading.value)}. We pull it in by ${mm(limit.value)}; very fine parts then sit straight on the shirt and look darker.`,
      printer: ({ reading, limit }) =>
        `Choke ${reading.inkNames[0]} by ${mmUp(limit.value - reading.value)} here: it reaches ${mm(-reading.value)} past the colour above.`,
    },
    'choke-too-small': {
      customer: ({ reading, limit }) =>
        `The ${reading.inkNames[0]} under your colours is only ${mm(reading.value)} inside their edge and may peek out. May we pull it in to ${mm(limit.value)}?`,
      printer: ({ reading, limit }) =>
        `Choke ${reading.inkNames[0]} by ${mmUp(limit.value - reading.value)} more, to ${mm(limit.value)}.`,
    },
    'close-to-limit': {
      customer: ({ reading, limit }) =>
        `The ${reading.inkNames[0]} under your colours is about ${mm(reading.value)} inside their edge; we like ${mm(limit.value)}. May we pull it in a little?`,
      printer: ({ reading, limit }) =>
        `Measure this edge under the loupe: ${mm(reading.value)} ± ${mm(reading.plusMinus)} cannot settle a choke of ${mm(limit.value)}.`,
    },
  },
};
