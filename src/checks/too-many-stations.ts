import { countStations, type StationCount } from '../ticket/countStations.ts';
import type { Check } from './check.ts';
import { judgeAtMost } from './judge.ts';
import { inkCountDoubtOf, jobReading } from './subject.ts';
import { counted, listed } from './words.ts';

export const tooManyStations: Check<'press-too-small'> = {
  id: 'too-many-stations',
  title: 'The press has a station for every step',
  failTitle: 'The job needs more stations than the press has',
  asks: 'Do all frames and flashes of the job fit on the press?',
  sources: [
    {
      kind: 'published',
      citation: 'A garment printer’s glossary: six colours, one flash and a cool-down are eight stations',
    },
    { kind: 'houseRule', ticketPath: 'press.heads, press.flashStations' },
  ],
  scope: 'job',
  worse: 'more',
  limit: ({ ticket }) => ticket.limits.stations,
  *measure(ask) {
    const printed = ask.artwork.inks.filter(({ printed }) => printed);
    if (printed.length === 0) {
      yield { why: 'No ink of this job prints anything.' };
      return;
    }
    const roles = printed.map(({ name }) => ask.ticket.screenFor(name).role.value);
    const stations = countStations(roles, ask.ticket.press.flashStations.value);
    yield jobReading({
      value: stations.total,
      unit: 'count',
      inkNames: printed.map(({ name }) => name),
      detail: stationWords(stations),
      ...inkCountDoubtOf(ask.artwork.films),
    });
  },
  judge: (reading, limit) => judgeAtMost(reading, limit, { beyond: 'press-too-small', close: 'press-too-small' }),
  advice: {
    'press-too-small': {
      customer: ({ reading, limit }) =>
        `This design needs ${counted(reading.value, 'step')} on the press (${reading.detail}) and the press has ${limit.value}. Could two inks become one?`,
      printer: ({ reading, limit }) =>
        `Save ${counted(reading.value - limit.value, 'station')}: merge inks, print in two rounds, or move the job to a larger press.`,
    },
  },
};

function stationWords({ inks, flashes, coolDowns }: StationCount): string {
  return listed([
    counted(inks, 'frame'),
    ...(flashes > 0 ? [counted(flashes, 'flash', 'flashes')] : []),
    ...(coolDowns > 0 ? [counted(coolDowns, 'cool-down')] : []),
  ]);
}
