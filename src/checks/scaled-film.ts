import type { PlateRegister } from '../measurements/marks.ts';
import type { Check } from './check.ts';
import { judgeAtMost } from './judge.ts';
import { plateById } from './plates.ts';
import { registersOf, whyNoRegister } from './register.ts';
import { plateReading, plateUnmeasured } from './subject.ts';
import { listed } from './words.ts';

/** A film whose two scales differ by less is not stretched one way. */
const evenWithin = 2e-5;

export const scaledFilm: Check<'stretched' | 'close-to-limit'> = {
  id: 'scaled-film',
  title: 'All films are at one scale',
  failTitle: 'Some films are at another scale than the rest',
  asks: 'Are the marks of every film as far apart as those of the first?',
  sources: [
    {
      kind: 'published',
      citation: 'A film maker’s tips on size change: polyester moves 0.0008 % for each percent of relative humidity',
    },
    { kind: 'houseRule', ticketPath: 'limits.scalePercent' },
  ],
  scope: 'job',
  worse: 'more',
  limit: (ask) => whyNoRegister(ask) ?? ask.ticket.limits.scalePercent,
  *measure(ask) {
    for (const register of registersOf(ask)) {
      const plate = plateById(ask, register.plateId);
      if (register.scale === null || register.scalePlusMinus === null) {
        yield plateUnmeasured(
          plate,
          `${plate.ink.name} has too few marks in common with the others to tell its scale.`,
        );
        continue;
      }
      const { widthMm, heightMm } = plate.film;
      const { scale, along, sideMm } = worstScaleOf(register, widthMm, heightMm);
      yield plateReading(plate, {
        value: Math.abs(scale - 1) * 100,
        unit: 'percent',
        plusMinus: 100 * register.scalePlusMinus,
        boxMm: { xMm: 0, yMm: 0, widthMm, heightMm },
        detail: `${Math.abs((scale - 1) * sideMm).toFixed(2)} mm ${scale < 1 ? 'shorter' : 'longer'} over ${sideMm.toFixed(0)} mm${along}`,
      });
    }
  },
  judge: (reading, limit) => judgeAtMost(reading, limit, { beyond: 'stretched', close: 'close-to-limit' }),
  advice: {
    stretched: {
      customer: ({ reading }) =>
        `The film for ${listed(reading.inkNames)} is ${reading.detail}, so the colours cannot all line up. Please output all films in one session on the same machine, at 100 %.`,
      printer: ({ reading, limit }) =>
        `Output ${listed(reading.inkNames)} again: ${reading.value.toFixed(3)} % off in scale, ${limit.value} % is allowed. Moving or turning the film cannot cure it.`,
    },
    'close-to-limit': {
      customer: ({ reading }) =>
        `The film for ${listed(reading.inkNames)} may be ${reading.detail}. Were all films output in one session, at 100 %?`,
      printer: ({ reading, limit }) =>
        `Measure between the outermost marks of ${listed(reading.inkNames)} and of the first film: ${reading.value.toFixed(3)} ± ${reading.plusMinus.toFixed(3)} % cannot settle ${limit.value} %.`,
    },
  },
};

/** The scale along the side that is furthest from true; one for both where the marks do not tell them apart. */
function worstScaleOf({ scale, scaleX, scaleY }: PlateRegister, widthMm: number, heightMm: number) {
  if (scaleX === null || scaleY === null || scaleX === scaleY || Math.abs(scaleX - scaleY) < evenWithin) {
    return { scale: scale ?? 1, along: '', sideMm: Math.max(widthMm, heightMm) };
  }
  return Math.abs(scaleX - 1) > Math.abs(scaleY - 1)
    ? { scale: scaleX, along: ' of its width', sideMm: widthMm }
    : { scale: scaleY, along: ' of its height', sideMm: heightMm };
}
