import type { PlateRegister } from '../measurements/marks.ts';
import type { Check } from './check.ts';
import { judgeAtMost } from './judge.ts';
import { plateById } from './plates.ts';
import { doubtOf, registerLimit, registersOf, whyNoRegister } from './register.ts';
import { plateReading } from './subject.ts';
import { listed, mm } from './words.ts';

const turned = 'turned';

export const misalignedFilm: Check<'shifted' | 'turned' | 'close-to-limit'> = {
  id: 'misaligned-film',
  title: 'All films lie alike on their sheets',
  failTitle: 'Some films lie shifted or turned on their sheets',
  asks: 'Is every film in the same position and at the same angle as the first, within what the press holds?',
  sources: [
    { kind: 'commonPractice', statement: 'films are fitted by shift and turn before anything else' },
    { kind: 'houseRule', ticketPath: 'press.registrationMm' },
  ],
  scope: 'job',
  worse: 'more',
  limit: (ask) => whyNoRegister(ask) ?? registerLimit(ask),
  *measure(ask) {
    for (const register of registersOf(ask)) {
      const plate = plateById(ask, register.plateId);
      const { widthMm, heightMm } = plate.film;
      const boxMm = { xMm: 0, yMm: 0, widthMm, heightMm };
      const doubt = doubtOf(register, plate.ink.name);
      const common = { unit: 'mm', plusMinus: register.plusMinusMm, boxMm, doubt } as const;
      yield plateReading(plate, {
        ...common,
        value: Math.hypot(register.dxMm, register.dyMm),
        detail: `${sideways(register)}, ${upDown(register)}`,
      });
      if (register.rotationDeg !== null) {
        const reachMm = Math.hypot(widthMm, heightMm) / 2;
        yield plateReading(plate, {
          ...common,
          value: 2 * reachMm * Math.sin((Math.abs(register.rotationDeg) * Math.PI) / 360),
          detail: `${turned} ${Math.abs(register.rotationDeg).toFixed(3)}° ${register.rotationDeg < 0 ? 'clockwise' : 'counter-clockwise'}, which moves the corners of the film`,
        });
      }
    }
  },
  judge: (reading, limit) =>
    judgeAtMost(reading, limit, {
      beyond: reading.detail?.startsWith(turned) ? 'turned' : 'shifted',
      close: 'close-to-limit',
    }),
  advice: {
    shifted: {
      customer: ({ reading }) =>
        `The film for ${listed(reading.inkNames)} sits ${mm(reading.value)} off (${reading.detail}). Please output all films from one page without moving any.`,
      printer: ({ reading, limit }) =>
        `${listed(reading.inkNames)} sits off by ${reading.detail} against the first film, and the press holds ${mm(limit.value)}: move it back when the film is fixed, or output it again.`,
    },
    turned: {
      customer: ({ reading }) =>
        `The film for ${listed(reading.inkNames)} is ${reading.detail} by ${mm(reading.value)}. Please output all films in one go on the same machine.`,
      printer: ({ reading }) =>
        `Turn ${listed(reading.inkNames)} back: it is ${reading.detail} by ${mm(reading.value)}. A scan laid askew does the same; scan again against an edge.`,
    },
    'close-to-limit': {
      customer: ({ reading }) =>
        `The film for ${listed(reading.inkNames)} may sit ${mm(reading.value)} off. Were all films output in one go?`,
      printer: ({ reading, limit }) =>
        `Lay ${listed(reading.inkNames)} on the first film under the loupe: ${mm(reading.value)} ± ${mm(reading.plusMinus)} cannot settle ${mm(limit.value)}.`,
    },
  },
};

function sideways({ dxMm }: PlateRegister): string {
  return `${mm(Math.abs(dxMm))} ${dxMm < 0 ? 'left' : 'right'}`;
}

function upDown({ dyMm }: PlateRegister): string {
  return `${mm(Math.abs(dyMm))} ${dyMm < 0 ? 'up' : 'down'}`;
}
