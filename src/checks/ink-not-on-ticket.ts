import type { Check } from './check.ts';
import { judgeAtMost } from './judge.ts';
import { noneOf } from './limits.ts';
import { doubtOf, jobReading } from './subject.ts';
import { listed } from './words.ts';

export const inkNotOnTicket: Check<'not-listed'> = {
  id: 'ink-not-on-ticket',
  title: 'Every ink of the art is on the ticket',
  failTitle: 'Some inks of the art are not on the ticket',
  asks: 'Does the ticket list a frame for every ink the art prints?',
  sources: [{ kind: 'houseRule', ticketPath: 'screens' }],
  scope: 'job',
  worse: 'more',
  limit: ({ ticket }) =>
    ticket.screens.length === 0
      ? { why: 'The ticket lists no frames.' }
      : noneOf('every ink is one of the ticket’s frames', 'the ticket’s list of frames', 'ticket'),
  *measure({ artwork, ticket, plates }) {
    for (const ink of artwork.inks.filter(({ printed }) => printed)) {
      const plate = plates.find((candidate) => candidate.ink.id === ink.id);
      const unnamed = ink.kind === 'flat' && ink.nameFrom !== 'ticket';
      const listing = ticket.screenFor(ink.name).listed;
      const doubt =
        unnamed && !listing
          ? 'This colour has no ink name, so it may be one of the ticket’s inks.'
          : doubtOf(artwork.films, 'inks');
      yield jobReading({
        value: listing ? 0 : 1,
        unit: 'count',
        plusMinus: 0,
        inkNames: [ink.name],
        filmId: plate?.film.id ?? null,
        boxMm: plate?.opacity.inkedBoxMm ?? null,
        doubt,
      });
    }
  },
  judge: (reading, limit) => judgeAtMost(reading, limit, { beyond: 'not-listed', close: 'not-listed' }),
  advice: {
    'not-listed': {
      customer: ({ reading }) =>
        `The art has ${listed(reading.inkNames)}, which is not among the inks ordered. Is it an extra ink, or one of those under another name?`,
      printer: ({ reading }) =>
        `Add a frame for ${listed(reading.inkNames)} to the ticket, or give its art to an ink that is listed.`,
    },
  },
};
