import type { Reading } from '../findings/finding.ts';
import type { PlateRegister } from '../measurements/marks.ts';
import type { Ask } from './ask.ts';
import type { Check } from './check.ts';
import { judgeAtMost } from './judge.ts';
import { plateById } from './plates.ts';
import { whyNoRegister } from './register.ts';
import { plateReading } from './subject.ts';
import { listed, mm } from './words.ts';

export const marksDisagree: Check<'marks-apart' | 'close-to-limit'> = {
  id: 'marks-disagree',
  title: 'The marks of all films lie on each other',
  failTitle: 'Marks of some films do not lie on each other',
  asks: 'Do the registration marks fall on the same place of every film, within what the press holds?',
  sources: [
    { kind: 'commonPractice', statement: 'marks that disagree between films make a fit impossible' },
    { kind: 'houseRule', ticketPath: 'press.registrationMm' },
  ],
  scope: 'job',
  worse: 'more',
  limit: (ask) => whyNoRegister(ask) ?? ask.ticket.limits.registrationMm,
  *measure(ask) {
    for (const register of ask.registration!.plates) {
      if (register.plateId === ask.registration!.referencePlateId) continue;
      const plate = plateById(ask, register.plateId);
      const { residualMm } = register;
      yield plateReading(plate, {
        value: register.worstOffsetMm,
        unit: 'mm',
        plusMinus: register.plusMinusMm,
        parts: offsetsOf(ask, register),
        detail:
          residualMm === null ? undefined : `${mm(residualMm)} stay when the film is moved to fit as well as it can`,
      });
    }
  },
  judge: (reading, limit) => judgeAtMost(reading, limit, { beyond: 'marks-apart', close: 'close-to-limit' }),
  advice: {
    'marks-apart': {
      customer: ({ reading }) =>
        `The marks on the film for ${listed(reading.inkNames)} lie ${mm(reading.value)} away from those of the others. Please output all films in one go from one page.`,
      printer: ({ reading, limit }) =>
        `Output ${listed(reading.inkNames)} again: its marks are off by ${mm(reading.value)}, the press holds ${mm(limit.value)}. Do not fit one mark and trust the rest.`,
    },
    'close-to-limit': {
      customer: ({ reading }) =>
        `The marks on the film for ${listed(reading.inkNames)} may lie ${mm(reading.value)} away from the others. Were all films output in one go?`,
      printer: ({ reading, limit }) =>
        `Lay ${listed(reading.inkNames)} on the first film under the loupe: ${mm(reading.value)} ± ${mm(reading.plusMinus)} cannot settle ${mm(limit.value)}.`,
    },
  },
};

/** Where the first film has its marks, and how far from there this film has the nearest of its own; worst first. */
function offsetsOf(ask: Ask, { plateId, residuals }: PlateRegister): Reading['parts'] {
  const marks = ask.marks.find((found) => found.plateId === plateId)?.marks ?? [];
  if (marks.length === 0) return undefined;
  return residuals
    .map(({ xMm, yMm }) => ({
      boxMm: { xMm: xMm - 4, yMm: yMm - 4, widthMm: 8, heightMm: 8 },
      focusMm: { xMm, yMm },
      value: Math.min(...marks.map((mark) => Math.hypot(mark.xMm - xMm, mark.yMm - yMm))),
    }))
    .sort((a, b) => b.value - a.value);
}
