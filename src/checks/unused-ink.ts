import type { Check } from './check.ts';
import { judgeAtMost } from './judge.ts';
import { noneOf } from './limits.ts';
import { isBlank, jobReading, plateReading } from './subject.ts';
import { listed } from './words.ts';

const blankFilm = 'a film with nothing on it';

export const unusedInk: Check<'blank-film' | 'never-painted'> = {
  id: 'unused-ink',
  title: 'Every ink of the job prints something',
  failTitle: 'Some inks print nothing',
  asks: 'Does every ink that is declared or filmed put something on its film?',
  sources: [{ kind: 'commonPractice', statement: 'a needless ink is a film, a frame and a set-up wasted' }],
  scope: 'job',
  worse: 'more',
  limit: () => noneOf('no ink without anything to print'),
  *measure({ artwork, plates }) {
    const inks = artwork.inks.filter(({ kind }) => kind !== 'registration');
    if (inks.length === 0) yield { why: 'The job declares no inks.' };
    for (const ink of inks) {
      const own = plates.filter((plate) => plate.ink.id === ink.id);
      const measured = { value: 0, unit: 'count', plusMinus: 0 } as const;
      if (!ink.printed) yield jobReading({ ...measured, value: 1, inkNames: [ink.name] });
      for (const plate of own) {
        if (!isBlank(plate)) yield plateReading(plate, { ...measured, plateIds: [] });
        else {
          const doubt = plate.verified ? {} : { doubt: plate.doubts.join(' ') };
          yield plateReading(plate, { ...measured, value: 1, detail: blankFilm, ...doubt });
        }
      }
    }
  },
  judge: (reading, limit) => {
    const judgement = judgeAtMost(reading, limit, { beyond: 'blank-film', close: 'blank-film' });
    if (judgement.outcome === 'pass' || reading.detail === blankFilm) return judgement;
    return { outcome: 'needsReview', code: 'never-painted' };
  },
  advice: {
    'blank-film': {
      customer: ({ reading }) =>
        `The film for ${listed(reading.inkNames)} is empty. Please check that nothing was left out of the export, or send the job without it.`,
      printer: ({ reading }) =>
        `Do not coat a frame for ${listed(reading.inkNames)}: its film is clear. Ask for the missing part or drop the ink.`,
    },
    'never-painted': {
      customer: ({ reading }) =>
        `The file lists ${listed(reading.inkNames)} but uses it nowhere. Is something missing, or may we leave it out?`,
      printer: ({ reading }) =>
        `Leave ${listed(reading.inkNames)} out of the film set; it is in the file’s list of inks and paints nothing.`,
    },
  },
};
