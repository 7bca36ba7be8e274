import type { Check } from './check.ts';
import { judgeAtMost } from './judge.ts';
import { noneOf } from './limits.ts';
import { doubtOf, jobReading } from './subject.ts';
import { listed } from './words.ts';

export const inkMissingFromArt: Check<'not-in-the-art'> = {
  id: 'ink-missing-from-art',
  title: 'Every ink of the ticket is in the art',
  failTitle: 'Some inks of the ticket are not in the art',
  asks: 'Is there art for every frame the ticket lists?',
  sources: [{ kind: 'houseRule', ticketPath: 'screens' }],
  scope: 'job',
  worse: 'more',
  limit: ({ ticket }) =>
    ticket.screens.length === 0
      ? { why: 'The ticket lists no frames.' }
      : noneOf('every frame of the ticket has its art', 'the ticket’s list of frames', 'ticket'),
  *measure({ artwork, ticket }) {
    const printed = artwork.inks.filter(({ printed }) => printed);
    const found = new Set(printed.map(({ name }) => ticket.screenFor(name).inkName));
    const nameless = printed.some(({ kind, nameFrom }) => kind === 'flat' && nameFrom !== 'ticket');
    for (const screen of ticket.screens) {
      const missing = !found.has(screen.inkName);
      const doubt =
        missing && nameless
          ? 'The art has colours without a name; one of them may be this ink.'
          : doubtOf(artwork.films, 'inks');
      yield jobReading({
        value: missing ? 1 : 0,
        unit: 'count',
        plusMinus: 0,
        inkNames: [screen.inkName],
        doubt,
      });
    }
  },
  judge: (reading, limit) => judgeAtMost(reading, limit, { beyond: 'not-in-the-art', close: 'not-in-the-art' }),
  advice: {
    'not-in-the-art': {
      customer: ({ reading }) =>
        `${listed(reading.inkNames)} was ordered, but the art has nothing in it. Please send the missing part, or tell us to leave the ink out.`,
      printer: ({ reading }) =>
        `Get or make the film for ${listed(reading.inkNames)} (a base is often made in the shop), or take its frame off the ticket.`,
    },
  },
};
