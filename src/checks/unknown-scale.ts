import type { Check } from './check.ts';
import { judgeAtMost } from './judge.ts';
import { noneOf } from './limits.ts';
import { doubtOf, filmName, filmReading } from './subject.ts';
import { wideMm } from './words.ts';

export const unknownScale: Check<'size-not-stated'> = {
  id: 'unknown-scale',
  title: 'Every film says how large it is',
  failTitle: 'Some films do not say how large they are',
  asks: 'Does every film state its size or its resolution?',
  sources: [
    { kind: 'standard', document: 'TIFF 6.0 (1992)', clause: 'XResolution, YResolution, ResolutionUnit' },
    { kind: 'commonPractice', statement: 'a missing resolution is asked for, never assumed' },
  ],
  scope: 'job',
  worse: 'more',
  limit: () => noneOf('every film states its size'),
  *measure({ artwork }) {
    if (artwork.films.length === 0) yield { why: 'The job has no films.' };
    for (const film of artwork.films) {
      yield filmReading(film, {
        value: film.scaleKnown ? 0 : 1,
        unit: 'count',
        plusMinus: 0,
        boxMm: { xMm: 0, yMm: 0, widthMm: film.widthMm, heightMm: film.heightMm },
        ...(film.scaleKnown
          ? {}
          : {
              detail:
                `${filmName(film)}, taken as ${wideMm(film.widthMm)} × ${wideMm(film.heightMm)}. ${doubtOf([film], 'size') ?? ''}`.trim(),
            }),
      });
    }
  },
  judge: (reading, limit) =>
    judgeAtMost(reading, limit, { beyond: 'size-not-stated', close: 'size-not-stated' }).outcome === 'pass'
      ? { outcome: 'pass' }
      : { outcome: 'needsReview', code: 'size-not-stated' },
  advice: {
    'size-not-stated': {
      customer: ({ reading }) =>
        `The file does not say how large it prints (${reading.detail}). Please tell us the width in millimetres.`,
      printer: () =>
        'Write the film’s resolution on the ticket (film.dpi) and run it again; every length in this report rests on an assumed size.',
    },
  },
};
