import type { Check } from './check.ts';
import { judgeAtMost } from './judge.ts';
import { isBlank, plateIn, plateReading } from './subject.ts';
import { percent } from './words.ts';

export const heavyStack: Check<'heavy-solid'> = {
  id: 'heavy-stack',
  title: 'No ink covers so much that the print feels stiff',
  failTitle: 'Some inks cover so much that the print feels stiff',
  asks: 'Does every ink leave enough of the film clear for the print to stay soft?',
  sources: [
    { kind: 'commonPractice', statement: 'a large solid feels stiff and holds heat on a shirt' },
    { kind: 'houseRule', ticketPath: 'limits.heavyCoveragePercent' },
  ],
  scope: 'plate',
  worse: 'more',
  limit: ({ ticket }) => ticket.limits.heavyCoveragePercent,
  *measure(_ask, subject) {
    const plate = plateIn(subject);
    const { coveragePercent, inkedBoxMm } = plate.opacity;
    if (!isBlank(plate)) {
      yield plateReading(plate, { value: coveragePercent, unit: 'percent', plusMinus: 0, boxMm: inkedBoxMm });
    } else if (plate.verified) yield { why: `${plate.ink.name} has no ink.` };
  },
  judge: (reading, limit) => {
    const judgement = judgeAtMost(reading, limit, { beyond: 'heavy-solid', close: 'heavy-solid' });
    return judgement.outcome === 'fail' ? { ...judgement, outcome: 'needsReview' } : judgement;
  },
  advice: {
    'heavy-solid': {
      customer: ({ reading }) =>
        `${reading.inkNames[0]} covers ${percent(reading.value)} of the print and will feel stiff. Could the shirt show through in places?`,
      printer: ({ reading, limit }) =>
        `Open ${reading.inkNames[0]} up with a texture or tint below ${percent(limit.value)}, or print it through a finer mesh with a soft additive and warn the customer.`,
    },
  },
};
