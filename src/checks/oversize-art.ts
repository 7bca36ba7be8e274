import { artBoxOf } from './artBox.ts';
import type { Check } from './check.ts';
import { judgeAtMost } from './judge.ts';
import { filmReading, sizeDoubtOf } from './subject.ts';
import { mm, wideMm } from './words.ts';

export const oversizeArt: Check<'larger-than-ordered' | 'close-to-limit'> = {
  id: 'oversize-art',
  title: 'The art is no larger than the print ordered',
  failTitle: 'The art is larger than the print ordered',
  asks: 'Does the art, without its marks, fit the print size on the ticket?',
  sources: [
    { kind: 'houseRule', ticketPath: 'print.widthMm, print.heightMm, limits.sizeToleranceMm' },
    { kind: 'commonPractice', statement: 'art is delivered at the size it prints' },
  ],
  scope: 'job',
  worse: 'more',
  limit: ({ ticket }) =>
    ticket.print.widthMm === null || ticket.print.heightMm === null
      ? { why: 'The ticket gives no print size.' }
      : ticket.limits.sizeToleranceMm,
  *measure(ask) {
    const { widthMm, heightMm } = ask.ticket.print;
    for (const film of ask.artwork.films) {
      const art = artBoxOf(ask, film);
      if (art === null) {
        yield { why: 'The films have no black to take a size from.' };
        continue;
      }
      const overMm = Math.max(art.boxMm.widthMm - widthMm!.value, art.boxMm.heightMm - heightMm!.value);
      const doubt =
        sizeDoubtOf(film) ?? (art.withMarks && overMm > 0 ? 'The size includes the registration marks.' : undefined);
      yield filmReading(film, {
        value: overMm,
        atWorst: Math.max(art.atMostMm.widthMm - widthMm!.value, art.atMostMm.heightMm - heightMm!.value),
        unit: 'mm',
        plusMinus: art.plusMinusMm,
        plateIds: art.plateIds,
        inkNames: art.inkNames,
        boxMm: art.boxMm,
        detail: `${wideMm(art.boxMm.widthMm)} × ${wideMm(art.boxMm.heightMm)}, ordered ${widthMm!.value} × ${heightMm!.value} mm`,
        doubt,
      });
    }
  },
  judge: (reading, limit) => judgeAtMost(reading, limit, { beyond: 'larger-than-ordered', close: 'close-to-limit' }),
  advice: {
    'larger-than-ordered': {
      customer: ({ reading }) =>
        `The art is ${wideMm(reading.value)} larger than the print ordered (${reading.detail}). Shall we reduce it, or would you like a larger print? Lines shrink too.`,
      printer: ({ reading }) =>
        `Reduce the art by ${wideMm(reading.value)} and check the thin lines again, or change the print size on the ticket.`,
    },
    'close-to-limit': {
      customer: ({ reading }) =>
        `The art is ${wideMm(reading.value)} larger than ordered (${reading.detail}). Is that as you want it?`,
      printer: ({ reading, limit }) =>
        `Measure the film: ${mm(reading.value)} ± ${mm(reading.plusMinus)} over cannot settle a tolerance of ${mm(limit.value)}.`,
    },
  },
};
