import type { PlateMarks } from '../measurements/marks.ts';
import type { Ask } from './ask.ts';
import type { Check } from './check.ts';
import { judgeAtLeast } from './judge.ts';
import { plateById } from './plates.ts';
import { jobReading, plateReading } from './subject.ts';
import { counted, listed } from './words.ts';

const lacking = 'other films have marks where this one has none';
const nowhere = 'no film has a mark';
const ofTheOthers = 'the marks the other films of the job have';
const worse = 'less' as const;
const scattered = 'there are shapes like marks, but not at one place on all films';

export const missingRegistrationMark: Check<'lacks-marks' | 'no-marks' | 'unmatched-marks' | 'few-marks'> = {
  id: 'missing-registration-mark',
  title: 'Every film has its registration marks',
  failTitle: 'Some films lack registration marks',
  asks: 'Does every film have the same registration marks, and enough of them?',
  sources: [
    {
      kind: 'published',
      citation: 'A contract printer’s guide to separated files: marks in registration colour on every film',
    },
    {
      kind: 'published',
      citation:
        'A researcher on cross-hair marks: aligning to the image does without them, so none at all is a question',
    },
    { kind: 'houseRule', ticketPath: 'film.marks, limits.markCount' },
  ],
  scope: 'job',
  worse,
  limit: ({ ticket, plates }) => {
    if (ticket.film.marks.value === 'addedAtOutput') return { why: 'The marks are added when the films are output.' };
    if (plates.length < 2) return { why: 'A single film needs no marks to fit another.' };
    return ticket.limits.markCount;
  },
  *measure(ask) {
    const { marks, plates } = ask;
    const inkNames = plates.map(({ ink }) => ink.name);
    if (marks.every(({ marks }) => marks.length === 0)) {
      const unmatched = marks.some(({ unconfirmed }) => unconfirmed.length > 0);
      yield jobReading({
        value: 0,
        unit: 'count',
        plusMinus: 0,
        inkNames,
        plateIds: plates.map(({ id }) => id),
        detail: unmatched ? scattered : nowhere,
      });
      return;
    }
    for (const found of marks) yield markReading(ask, found);
  },
  judge: (reading, limit) => {
    if (reading.detail === nowhere) return { outcome: 'needsReview', code: 'no-marks' };
    if (reading.detail === scattered) return { outcome: 'needsReview', code: 'unmatched-marks' };
    if (reading.detail === lacking) {
      const others = reading.value + (reading.parts?.length ?? 0);
      const shown = {
        value: reading.value,
        plusMinus: 0,
        limit: { ...limit, value: others, rule: ofTheOthers },
        worse,
      };
      return { outcome: 'fail', code: 'lacks-marks', shown };
    }
    const judgement = judgeAtLeast(reading, limit, { beyond: 'few-marks', close: 'few-marks' });
    return judgement.outcome === 'fail' ? { outcome: 'needsReview', code: 'few-marks' } : judgement;
  },
  advice: {
    'lacks-marks': {
      customer: ({ reading, placesTotal }) =>
        `The film for ${listed(reading.inkNames)} lacks ${counted(placesTotal, 'mark')} that the other films have. Please put the same registration marks on every film.`,
      printer: ({ reading }) =>
        `Output ${listed(reading.inkNames)} again with the marks in registration colour; without them it is fitted by eye on press.`,
    },
    'no-marks': {
      customer: ({ limit }) =>
        `No film has registration marks. Please put the same ${counted(limit.value, 'mark')} on every film, or tell us to add them.`,
      printer: ({ limit }) =>
        `Add ${counted(limit.value, 'mark')} in registration colour, at the top and bottom centre outside the art, or set film.marks to addedAtOutput if the output adds them.`,
    },
    'unmatched-marks': {
      customer: () =>
        'The films have registration marks, but not at the same place on each. Please export all films from one page with one set of marks.',
      printer: () =>
        'Lay the films on each other by the art: if the marks then lie apart, ask for the set again with marks in registration colour.',
    },
    'few-marks': {
      customer: ({ reading, limit }) =>
        `The films have ${counted(reading.value, 'registration mark')} and need ${limit.value}. Please add the missing ones to every film.`,
      printer: ({ reading, limit }) =>
        `Fit with care: ${counted(reading.value, 'mark')} of ${limit.value} wanted. One mark cannot show a turned film, two cannot show a skewed one.`,
    },
  },
};

function markReading(ask: Ask, { plateId, marks, missing }: PlateMarks) {
  const plate = plateById(ask, plateId);
  const lacks = missing.filter(({ looked }) => looked);
  const unlooked = missing.filter(({ looked }) => !looked);
  const places = lacks.length > 0 ? lacks : unlooked;
  return plateReading(plate, {
    value: marks.length,
    unit: 'count',
    plusMinus: 0,
    parts: places.map(({ xMm, yMm }) => ({
      boxMm: { xMm: xMm - 4, yMm: yMm - 4, widthMm: 8, heightMm: 8 },
      focusMm: { xMm, yMm },
      value: marks.length,
    })),
    detail: lacks.length > 0 ? lacking : undefined,
    doubt:
      lacks.length === 0 && unlooked.length > 0
        ? `A mark could not be looked for on ${plate.ink.name}: ${unlooked[0].why ?? 'the place is hidden'}.`
        : undefined,
  });
}
