import type { Check } from './check.ts';
import { judgeAtMost } from './judge.ts';
import { filmName, filmReading, sizeDoubtOf } from './subject.ts';
import { mm, wideMm } from './words.ts';

export const unequalFilms: Check<'sizes-differ'> = {
  id: 'unequal-films',
  title: 'All films are of one size',
  failTitle: 'Films differ in size',
  asks: 'Are all films of the job of the same size?',
  sources: [
    { kind: 'published', citation: 'A contract printer’s guide to separated files: all artboards aligned the same' },
    { kind: 'houseRule', ticketPath: 'limits.sizeToleranceMm' },
  ],
  scope: 'job',
  worse: 'more',
  limit: ({ artwork, ticket }) =>
    artwork.films.length < 2 ? { why: 'The job is one film.' } : ticket.limits.sizeToleranceMm,
  *measure({ artwork, plates }) {
    const [first, ...others] = artwork.films;
    for (const film of others) {
      const differenceMm = Math.max(Math.abs(film.widthMm - first.widthMm), Math.abs(film.heightMm - first.heightMm));
      const doubt = sizeDoubtOf(first) ?? sizeDoubtOf(film);
      yield filmReading(film, {
        value: differenceMm,
        unit: 'mm',
        plusMinus: 0,
        inkNames: plates.filter((plate) => plate.film.id === film.id).map(({ ink }) => ink.name),
        boxMm: { xMm: 0, yMm: 0, widthMm: film.widthMm, heightMm: film.heightMm },
        detail: `${filmName(film)}: ${wideMm(film.widthMm)} × ${wideMm(film.heightMm)}; ${filmName(first)}: ${wideMm(first.widthMm)} × ${wideMm(first.heightMm)}`,
        doubt,
      });
    }
  },
  judge: (reading, limit) => judgeAtMost(reading, limit, { beyond: 'sizes-differ', close: 'sizes-differ' }),
  advice: {
    'sizes-differ': {
      customer: ({ reading }) =>
        `The films differ by ${mm(reading.value)} in size (${reading.detail}). Please export all of them from one page, at one size.`,
      printer: ({ reading, limit }) =>
        `Ask for the set again: sizes differ by ${mm(reading.value)}, ${mm(limit.value)} is allowed. Do not scale a single film to fit.`,
    },
  },
};
