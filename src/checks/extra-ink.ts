import type { Check } from './check.ts';
import { judgeAtMost } from './judge.ts';
import { inkCountDoubtOf, jobReading } from './subject.ts';
import { counted, listed, oneOrMany } from './words.ts';

export const extraInk: Check<'more-than-allowed'> = {
  id: 'extra-ink',
  title: 'The job has no more inks than it may have',
  failTitle: 'The job has more inks than it may have',
  asks: 'Does the art print with no more inks than the job or the press allows?',
  sources: [
    { kind: 'commonPractice', statement: 'a press prints as many colours as it has heads' },
    { kind: 'houseRule', ticketPath: 'limits.maxInks' },
  ],
  scope: 'job',
  worse: 'more',
  limit: (ask) => ask.ticket.limits.maxInks,
  *measure({ artwork }) {
    const printed = artwork.inks.filter(({ printed }) => printed);
    if (printed.length === 0) {
      yield { why: 'No ink of this job prints anything.' };
      return;
    }
    yield jobReading({
      value: printed.length,
      unit: 'count',
      inkNames: printed.map(({ name }) => name),
      ...inkCountDoubtOf(artwork.films),
    });
  },
  judge: (reading, limit) => judgeAtMost(reading, limit, { beyond: 'more-than-allowed', close: 'more-than-allowed' }),
  advice: {
    'more-than-allowed': {
      customer: ({ reading, limit }) =>
        `This design uses ${counted(reading.value, 'ink')} (${listed(reading.inkNames)}); this job allows ${limit.value}. Please tell us which ${oneOrMany(reading.value - limit.value, 'one', `${reading.value - limit.value}`)} of them can be merged with another.`,
      printer: ({ reading, limit, ticket }) =>
        `Merge ${counted(reading.value - limit.value, 'ink')} into the others, print one as a tint of another, or ${reading.value > ticket.press.heads.value ? `move the job to a press with ${reading.value} heads` : `agree ${counted(reading.value, 'ink')} and put them on the ticket`}.`,
    },
  },
};
