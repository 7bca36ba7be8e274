import type { Reading } from '../findings/finding.ts';
import type { Displaced, PlateRegister } from '../measurements/marks.ts';
import type { Ask } from './ask.ts';
import type { Check } from './check.ts';
import { judgeAtMost } from './judge.ts';
import { plateById } from './plates.ts';
import { registerLimit, registersOf, whyNoRegister } from './register.ts';
import { plateReading } from './subject.ts';
import { counted, listed, mm } from './words.ts';

const oneMoved = 'one mark lies';
const artOff = 'the art against the marks, by';

export const marksDisagree: Check<'marks-apart' | 'mark-moved' | 'art-off-marks' | 'close-to-limit'> = {
  id: 'marks-disagree',
  title: 'The marks of all films lie on each other',
  failTitle: 'Marks of some films do not lie on each other',
  asks: 'Do the registration marks fall on the same place of every film, within what the press and the smallest trap hold, and does the art lie where they put it?',
  sources: [
    { kind: 'commonPractice', statement: 'marks that disagree between films make a fit impossible' },
    { kind: 'houseRule', ticketPath: 'press.registrationMm' },
  ],
  scope: 'job',
  worse: 'more',
  limit: (ask) => whyNoRegister(ask) ?? registerLimit(ask),
  *measure(ask) {
    for (const register of registersOf(ask)) {
      const plate = plateById(ask, register.plateId);
      if (register.marksUsed === 0) {
        yield { why: `${plate.ink.name} has no marks in common with the others.` };
        continue;
      }
      const { residualMm, movedMark } = register;
      yield plateReading(plate, {
        value: register.worstOffsetMm,
        unit: 'mm',
        plusMinus: register.plusMinusMm,
        parts: offsetsOf(ask, register),
        detail: movedMark !== null ? movedWords(movedMark) : residualMm === null ? undefined : stayWords(residualMm),
      });
      const off = register.artFit?.offMarks ?? null;
      if (register.artFit !== null && off !== null) {
        yield plateReading(plate, {
          value: off.displacementMm,
          unit: 'mm',
          plusMinus: register.artFit.plusMinusMm + register.plusMinusMm,
          boxMm: { xMm: off.xMm - 4, yMm: off.yMm - 4, widthMm: 8, heightMm: 8 },
          detail: `${artOff} ${counted(register.artFit.edges, 'place')} on its outlines`,
        });
      }
    }
  },
  judge: (reading, limit) => {
    if (reading.detail?.startsWith(artOff)) {
      const judgement = judgeAtMost(reading, limit, { beyond: 'art-off-marks', close: 'art-off-marks' });
      // An art may be drawn so that its outlines lie apart, so this asks and does not stop.
      return judgement.outcome === 'fail' ? { outcome: 'needsReview', code: 'art-off-marks' } : judgement;
    }
    const beyond = reading.detail?.startsWith(oneMoved) ? 'mark-moved' : 'marks-apart';
    return judgeAtMost(reading, limit, { beyond, close: 'close-to-limit' });
  },
  advice: {
    'marks-apart': {
      customer: ({ reading }) =>
        `The marks on the film for ${listed(reading.inkNames)} lie ${mm(reading.value)} away from those of the others. Please output all films in one go from one page.`,
      printer: ({ reading, limit }) =>
        `Output ${listed(reading.inkNames)} again: its marks are off by ${mm(reading.value)}, the press holds ${mm(limit.value)}. Do not fit one mark and trust the rest.`,
    },
    'mark-moved': {
      customer: ({ reading }) =>
        `One mark on the film for ${listed(reading.inkNames)} was moved: ${reading.detail}. Please put it back and output the film again.`,
      printer: ({ reading }) =>
        `Fit ${listed(reading.inkNames)} by its other marks and leave this one aside: ${reading.detail}. The film itself is not to blame.`,
    },
    'art-off-marks': {
      customer: ({ reading }) =>
        `On the film for ${listed(reading.inkNames)} the art lies ${mm(reading.value)} from where its marks put it. Was the art moved after the marks were added?`,
      printer: ({ reading }) =>
        `Lay ${listed(reading.inkNames)} on the other films by the marks and look at the art: its outlines fit theirs ${mm(reading.value)} off. Fit by the art if the marks are wrong.`,
    },
    'close-to-limit': {
      customer: ({ reading }) =>
        `The marks on the film for ${listed(reading.inkNames)} may lie ${mm(reading.value)} away from the others. Were all films output in one go?`,
      printer: ({ reading, limit }) =>
        `Lay ${listed(reading.inkNames)} on the first film under the loupe: ${mm(reading.value)} ± ${mm(reading.plusMinus)} cannot settle ${mm(limit.value)}.`,
    },
  },
};

function movedWords({ displacementMm, xMm, yMm }: Displaced): string {
  return `${oneMoved} ${mm(displacementMm)} from where the others put it, at ${xMm.toFixed(0)}, ${yMm.toFixed(0)} mm`;
}

function stayWords(residualMm: number): string {
  return `${mm(residualMm)} stay when the film is moved to fit as well as it can`;
}

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
