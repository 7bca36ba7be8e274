import { lightnessOfHex } from '../colour/lab.ts';
import type { ScreenRole } from '../ticket/ticket.ts';
import type { Ask } from './ask.ts';
import type { Check } from './check.ts';
import { noneOf } from './limits.ts';
import { jobReading } from './subject.ts';

const baseFirst = 'a base prints before what lies on it';
const keyLast = 'a key prints after the colours';
const highlightLast = 'a highlight prints last';
const lightFirst = 'light prints before dark';

/** Inks nearer in lightness (L*) than this may follow in either order. */
const sameLightness = 10;
/** A light ink that covers so many times as much is printed last, so that later frames do not pick it up. */
const largeLight = 5;

interface Step {
  readonly inkName: string;
  readonly role: ScreenRole;
  readonly lightness: number | null;
  readonly coveragePercent: number;
}

export const printOrder: Check<'base-not-first' | 'key-not-last' | 'highlight-not-last' | 'dark-before-light'> = {
  id: 'print-order',
  title: 'The ticket’s frames are in a usual order of printing',
  failTitle: 'The ticket’s frames are in an unusual order of printing',
  asks: 'Does the order of the ticket’s frames go base, light to dark, key, highlight?',
  sources: [
    { kind: 'published', citation: 'An article on wet-on-wet printing: light to dark, a large light area last' },
    { kind: 'published', citation: 'An article on printing wet and with flash: nothing prints wet on a wet base' },
    { kind: 'commonPractice', statement: 'black or key last, a highlight white on top of it' },
  ],
  scope: 'job',
  worse: 'more',
  limit: ({ ticket }) =>
    ticket.screens.length < 2
      ? { why: 'The ticket lists fewer than two frames, so it gives no order.' }
      : noneOf('base, then light to dark, then key, then highlight'),
  *measure(ask) {
    const steps = ask.ticket.screens.map(({ inkName, role }) => stepOf(ask, inkName, role.value));
    for (const [index, later] of steps.entries()) {
      if (index === 0) continue;
      const earlier = steps[index - 1];
      const rule = ruleBroken(earlier, later);
      yield jobReading({
        value: rule === null ? 0 : 1,
        unit: 'count',
        plusMinus: 0,
        inkNames: [earlier.inkName, later.inkName],
        detail: rule ?? undefined,
      });
    }
  },
  judge: ({ value, detail }, limit) => {
    if (value <= limit.value) return { outcome: 'pass' };
    if (detail === baseFirst) return { outcome: 'needsReview', code: 'base-not-first' };
    if (detail === keyLast) return { outcome: 'needsReview', code: 'key-not-last' };
    if (detail === highlightLast) return { outcome: 'needsReview', code: 'highlight-not-last' };
    return { outcome: 'needsReview', code: 'dark-before-light' };
  },
  advice: {
    'base-not-first': {
      customer: ({ reading: { inkNames } }) =>
        `The order lists ${inkNames[0]} before the base ${inkNames[1]}. We would print the base first, unless you know better.`,
      printer: ({ reading: { inkNames } }) => `Move ${inkNames[1]} to the front and flash it before ${inkNames[0]}.`,
    },
    'key-not-last': {
      customer: ({ reading: { inkNames } }) =>
        `The order lists ${inkNames[0]} before ${inkNames[1]}. We would print ${inkNames[0]} after the colours, unless you know better.`,
      printer: ({ reading: { inkNames } }) => `Move ${inkNames[0]} behind ${inkNames[1]}, so that it covers the edges.`,
    },
    'highlight-not-last': {
      customer: ({ reading: { inkNames } }) =>
        `The order lists the highlight ${inkNames[0]} before ${inkNames[1]}. We would print the highlight last, unless you know better.`,
      printer: ({ reading: { inkNames } }) => `Move ${inkNames[0]} to the end, so that nothing dulls it.`,
    },
    'dark-before-light': {
      customer: ({ reading: { inkNames } }) =>
        `The order lists ${inkNames[0]} before the lighter ${inkNames[1]}. We would print the lighter one first, unless you know better.`,
      printer: ({ reading: { inkNames } }) =>
        `Swap ${inkNames[0]} and ${inkNames[1]} so that light prints before dark, or keep the order if it belongs to a simulated-process separation.`,
    },
  },
};

function stepOf(ask: Ask, inkName: string, role: ScreenRole): Step {
  const plates = ask.plates.filter(({ ink }) => ask.ticket.screenFor(ink.name).inkName === inkName);
  return {
    inkName,
    role,
    lightness: plates.length === 0 ? null : lightnessOfHex(plates[0].ink.displayHex),
    coveragePercent: plates.reduce((most, { opacity }) => Math.max(most, opacity.coveragePercent), 0),
  };
}

/** Which rule two neighbours break, or null. */
function ruleBroken(earlier: Step, later: Step): string | null {
  if (later.role === 'underbase' && earlier.role !== 'underbase') return baseFirst;
  if (earlier.role === 'highlight' && later.role !== 'highlight') return highlightLast;
  if (earlier.role === 'key' && later.role === 'colour') return keyLast;
  if (earlier.role !== 'colour' || later.role !== 'colour') return null;
  if (earlier.lightness === null || later.lightness === null) return null;
  if (later.lightness - earlier.lightness < sameLightness) return null;
  return later.coveragePercent >= largeLight * earlier.coveragePercent ? null : lightFirst;
}
