import type { Ink } from '../artwork/ink.ts';
import { deltaE2000OfHex } from '../colour/deltaE2000.ts';
import { normaliseInkName } from '../colour/normaliseInkName.ts';
import type { Ask } from './ask.ts';
import type { Check } from './check.ts';
import { reaches } from './judge.ts';
import { jobReading } from './subject.ts';

const sameName = 'one name, written two ways';
/** Less is hardly seen even side by side. */
const unseenDeltaE = 1;

export const nearDuplicateInk: Check<'same-ink-twice' | 'same-name' | 'similar-colour'> = {
  id: 'near-duplicate-ink',
  title: 'No two inks look like one',
  failTitle: 'Some inks look like one ink twice',
  asks: 'Are all printed inks clearly different from each other in name and colour?',
  sources: [
    {
      kind: 'published',
      citation: 'Sharma, Wu, Dalal, Color Research & Application 30(1), 21–30 (2005): the CIEDE2000 colour difference',
    },
    {
      kind: 'commonPractice',
      statement: 'below a difference of 1 two inks are the same ink, up to 3 likely a duplicate: ask',
    },
    { kind: 'houseRule', ticketPath: 'limits.nearDuplicateDeltaE' },
  ],
  scope: 'job',
  worse: 'less',
  limit: (ask) => ask.ticket.limits.nearDuplicateDeltaE,
  *measure(ask) {
    const printed = ask.artwork.inks.filter(({ printed }) => printed);
    if (printed.length < 2) yield { why: 'The job prints one ink.' };
    for (const [index, first] of printed.entries()) {
      for (const second of printed.slice(index + 1)) yield* compareInks(ask, first, second);
    }
  },
  judge: (reading, limit) => {
    const named = reading.detail === sameName;
    if (named && !reaches(reading.value, unseenDeltaE)) return { outcome: 'fail', code: 'same-ink-twice' };
    if (named) return { outcome: 'needsReview', code: 'same-name' };
    if (reaches(reading.value, limit.value)) return { outcome: 'pass' };
    return { outcome: 'needsReview', code: 'similar-colour' };
  },
  advice: {
    'same-ink-twice': {
      customer: ({ reading: { inkNames } }) =>
        `${inkNames[0]} and ${inkNames[1]} are one ink under two names. We would print them as one; please confirm.`,
      printer: ({ reading: { inkNames } }) =>
        `Put what is in ${inkNames[1]} on the film of ${inkNames[0]}: one film and one frame less.`,
    },
    'same-name': {
      customer: ({ reading: { inkNames } }) =>
        `${inkNames[0]} and ${inkNames[1]} have the same name but not the same colour in the file. Is it one ink, and which colour is right?`,
      printer: ({ reading: { inkNames } }) =>
        `Ask which colour is meant before ${inkNames[0]} and ${inkNames[1]} are filmed as two inks.`,
    },
    'similar-colour': {
      customer: ({ reading: { inkNames } }) =>
        `${inkNames[0]} and ${inkNames[1]} are almost the same colour. One ink, or do you need both?`,
      printer: ({ reading, limit }) =>
        `Colour difference ${reading.value.toFixed(1)} (CIEDE2000), below ${limit.value}: merge ${reading.inkNames[0]} and ${reading.inkNames[1]} if the customer agrees, and save a film and a frame.`,
    },
  },
};

function* compareInks(ask: Ask, first: Ink, second: Ink) {
  if (areTwoFramesByDesign(ask, first, second)) {
    yield { why: `${first.name} and ${second.name} are two frames by design, a base or a highlight and another ink.` };
    return;
  }
  const namedAlike = normaliseInkName(first.name) === normaliseInkName(second.name) && !areNumbered(first, second);
  const inkNames = [first.name, second.name];
  if (hasColour(ask, first) && hasColour(ask, second)) {
    yield jobReading({
      value: deltaE2000OfHex(first.displayHex, second.displayHex),
      unit: 'deltaE',
      plusMinus: 0,
      inkNames,
      ...(namedAlike ? { detail: sameName } : {}),
    });
  } else if (namedAlike) {
    yield {
      reason: `${first.name} and ${second.name} are ${sameName}, and the films do not say what colour they are.`,
      plateIds: [],
      inkNames,
      filmId: null,
      boxMm: null,
    };
  } else {
    yield { why: 'The films give no ink colours to compare; their names differ.' };
  }
}

/** `Spot 1` and `Spot 2` are told apart by their numbers; `Coral` and `Coral 2` are one ink copied. */
function areNumbered(first: Ink, second: Ink): boolean {
  const numbers = [first, second].map(({ name }) => /(\d+)\W*$/.exec(name)?.[1]);
  return numbers[0] !== undefined && numbers[1] !== undefined && numbers[0] !== numbers[1];
}

/** A white base, a white and a highlight white look alike and print at different times. */
function areTwoFramesByDesign({ ticket }: Ask, first: Ink, second: Ink): boolean {
  const roles = [first, second].map(({ name }) => ticket.screenFor(name).role.value);
  return roles[0] !== roles[1] && roles.some((role) => role === 'underbase' || role === 'highlight');
}

/** Films that are separated already, and TIFF channels, carry an ink's name but not its colour. */
function hasColour(ask: Ask, ink: Ink): boolean {
  const filmIds = ask.artwork.plateSources.filter(({ inkId }) => inkId === ink.id).map(({ filmId }) => filmId);
  return ask.artwork.films.some(
    ({ id, form, format, nature }) =>
      filmIds.includes(id) && form === 'composite' && !(format === 'tiff' && nature === 'bitmap'),
  );
}
