import type { Check } from './check.ts';
import { judgeAtMost } from './judge.ts';
import { plateIn, plateReading } from './subject.ts';
import { percent } from './words.ts';

export const softDot: Check<'soft'> = {
  id: 'soft-dot',
  title: 'The dots of every halftone have hard edges',
  failTitle: 'The dots of some halftones have soft edges',
  asks: 'Are the dots of every halftone black to their edges?',
  sources: [
    {
      kind: 'commonPractice',
      statement: 'soft edges expose differently from batch to batch, and small dots are all edge',
    },
    { kind: 'houseRule', ticketPath: 'limits.softDotPercent' },
  ],
  scope: 'plate',
  worse: 'more',
  limit: ({ ticket }) => ticket.limits.softDotPercent,
  *measure(_ask, subject) {
    const plate = plateIn(subject);
    const parts = plate.halftone.regions.filter(({ kind }) => kind !== 'pattern');
    if (parts.length === 0 && plate.halftone.regions.length > 0)
      yield { why: `What repeats on ${plate.ink.name} is artwork, not halftone.` };
    for (const { softEdgePercent, boxMm } of parts) {
      if (softEdgePercent === null) yield { why: `${plate.ink.name} is black and clear only: its dots are hard.` };
      else yield plateReading(plate, { value: softEdgePercent, unit: 'percent', plusMinus: 0, boxMm });
    }
  },
  judge: (reading, limit) => {
    const judgement = judgeAtMost(reading, limit, { beyond: 'soft', close: 'soft' });
    // A scanner softens edges as well: what the file shows need not be on the film.
    return judgement.outcome === 'fail' ? { ...judgement, outcome: 'needsReview' } : judgement;
  },
  advice: {
    soft: {
      customer: ({ reading }) =>
        `The dots of the halftone in ${reading.inkNames[0]} have soft, grey edges (${percent(reading.value)} of them). If this file goes to film, please send it in pure black and white at the resolution of the film.`,
      printer: ({ reading }) =>
        `${percent(reading.value)} of the edges are softer than the pixels explain. If this is a scan, look at the film under the loupe; if it goes to film as it is, it will be screened anew or print unevenly: ask for a one-bit film.`,
    },
  },
};
