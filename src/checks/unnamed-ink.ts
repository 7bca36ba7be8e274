import type { Ink } from '../artwork/ink.ts';
import type { Check } from './check.ts';
import { judgeAtMost } from './judge.ts';
import { noneOf } from './limits.ts';
import { jobReading } from './subject.ts';

export const unnamedInk: Check<'colour-without-name'> = {
  id: 'unnamed-ink',
  title: 'Every ink has a name',
  failTitle: 'Some colours have no ink name',
  asks: 'Does every colour that makes a film have an ink’s name, from the file or the ticket?',
  sources: [
    {
      kind: 'commonPractice',
      statement: 'inks are named before films are made; a solid colour nobody named is a guess at an ink',
    },
  ],
  scope: 'job',
  worse: 'more',
  limit: () => noneOf('every colour that is filmed has an ink’s name'),
  *measure({ artwork, plates }) {
    const printed = artwork.inks.filter(({ printed }) => printed);
    if (printed.length === 0) yield { why: 'No ink of this job prints anything.' };
    for (const ink of printed) {
      const plate = plates.find((candidate) => candidate.ink.id === ink.id);
      yield jobReading({
        value: isUnnamed(ink) ? 1 : 0,
        unit: 'count',
        plusMinus: 0,
        inkNames: [ink.name],
        filmId: plate?.film.id ?? null,
        boxMm: plate?.opacity.inkedBoxMm ?? null,
        ...(isUnnamed(ink) && ink.name !== ink.displayHex ? { detail: `drawn in ${ink.displayHex}` } : {}),
      });
    }
  },
  judge: (reading, limit) =>
    judgeAtMost(reading, limit, { beyond: 'colour-without-name', close: 'colour-without-name' }).outcome === 'pass'
      ? { outcome: 'pass' }
      : { outcome: 'needsReview', code: 'colour-without-name' },
  advice: {
    'colour-without-name': {
      customer: ({ reading }) => `${reading.inkNames[0]} has no ink name. Please tell us which ink you want for it.`,
      printer: ({ reading }) =>
        `Name the ink for ${reading.inkNames[0]} on the ticket before it is filmed, so that the film carries the right label.`,
    },
  },
};

function isUnnamed(ink: Ink): boolean {
  return ink.kind === 'flat' && ink.nameFrom !== 'ticket';
}
