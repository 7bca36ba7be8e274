import type { Reading } from '../findings/finding.ts';
import type { TonePlace } from '../measurements/halftone.ts';
import { finestDotMm, finestIslandMm } from '../mesh/detailRules.ts';
import { dotFormOf } from '../mesh/dotForm.ts';
import { holdsDotsOf, holdsHolesOf, usableTones } from '../mesh/toneRange.ts';
import type { Ask, PlateFacts } from './ask.ts';
import type { AdviceContext, Check } from './check.ts';
import { factsOf, meshOf, noMesh, noRuling, type RuledPart, ruledParts } from './halftoneParts.ts';
import { judgeAtMost } from './judge.ts';
import { filmChangeInWords, goodSettings, settingsInWords } from './nearestSettings.ts';
import { limitsOf, plateIn, plateReading } from './subject.ts';
import { percent } from './words.ts';

const lights = 'tones lighter than';
const darks = 'tones darker than';

export const toneOutOfRange: Check<'lights-lost' | 'darks-filled' | 'close-to-limit'> = {
  id: 'tone-out-of-range',
  title: 'Every halftone keeps to tones its mesh holds',
  failTitle: 'Some halftones have tones their mesh does not hold',
  asks: 'Are the lightest and the darkest tones of every halftone made of dots and holes the mesh holds?',
  sources: [
    {
      kind: 'commonPractice',
      statement:
        'a dot needs one mesh opening and two threads; the tone of such dots is π/4 (size × ruling)², of such holes the same short of solid',
    },
    { kind: 'houseRule', ticketPath: 'limits.lostTonePercent' },
  ],
  scope: 'plate',
  worse: 'more',
  limit: (ask, subject) => limitsOf(ask, plateIn(subject)).lostTonePercent,
  *measure(ask, subject) {
    const plate = plateIn(subject);
    const parts = ruledParts(plate);
    const sizes = smallestHeld(ask, plate);
    if (parts.length === 0) yield* noRuling(plate);
    else if (sizes === null) yield noMesh(plate);
    else for (const part of parts) yield* tonesOf(plate, part, sizes);
  },
  judge: (reading, limit) =>
    judgeAtMost(reading, limit, {
      beyond: reading.detail?.startsWith(lights) ? 'lights-lost' : 'darks-filled',
      close: 'close-to-limit',
    }),
  advice: {
    'lights-lost': {
      customer: (context) =>
        `${capital(percent(context.reading.value))} of the halftone in ${context.reading.inkNames[0]} is too light to print: ${context.reading.detail} will be lost. ${askFor(context, 'Please make them darker or take them out')}`,
      printer: (context) =>
        `${capital(context.reading.detail!)} fall between the threads. Lift them to that tone, drop them, or print ${waysOut(context)}.`,
    },
    'darks-filled': {
      customer: (context) =>
        `${capital(percent(context.reading.value))} of the halftone in ${context.reading.inkNames[0]} is so dark that it fills in: ${context.reading.detail} will print solid. ${askFor(context, 'Please make them lighter or solid')}`,
      printer: (context) =>
        `The holes of ${context.reading.detail} wash out or fill in. Bring them down to that tone, make them solid, or print ${waysOut(context)}.`,
    },
    'close-to-limit': {
      customer: ({ reading }) =>
        `Some of the halftone in ${reading.inkNames[0]} is at the edge of what prints: ${reading.detail} may be lost or fill in. May they?`,
      printer: ({ reading, limit }) =>
        `${percent(reading.value)} ± ${percent(reading.plusMinus)} of the halftone are ${reading.detail}, too near ${percent(limit.value)} to tell: look at its ends under the loupe.`,
    },
  },
};

interface Sizes {
  readonly dotMm: number;
  readonly islandMm: number;
}

/** Smallest dot and island by mesh, ticket or shop; the floors for loose dots on garments say nothing of halftones. */
function smallestHeld(ask: Ask, plate: PlateFacts): Sizes | null {
  const { minDotMm, minIslandMm } = limitsOf(ask, plate);
  if (meshOf(ask, plate) === null && (minDotMm.from === 'default' || minIslandMm.from === 'default')) return null;
  return { dotMm: minDotMm.value, islandMm: minIslandMm.value };
}

function* tonesOf(plate: PlateFacts, part: RuledPart, sizes: Sizes): Iterable<Reading> {
  const held = usableTones(dotFormOf(part), part.rulingLpi, sizes.dotMm, sizes.islandMm);
  const common = { unit: 'percent', halftones: [factsOf(part)] } as const;
  const lost = (tone: number) =>
    sharePercent(part, (from, to) => (Math.min(to, Math.max(from, tone)) - from) / (to - from));
  const filled = (tone: number) => 100 - lost(tone);
  const { tonePlusMinusPercent: bar } = part;
  yield plateReading(plate, {
    ...common,
    value: lost(held.lightestPercent),
    plusMinus: barOf(lost, held.lightestPercent, bar),
    ...placesOf(
      part,
      part.lightest.filter(({ tonePercent }) => tonePercent < held.lightestPercent),
    ),
    detail: `${lights} ${percent(held.lightestPercent)}`,
  });
  yield plateReading(plate, {
    ...common,
    value: filled(held.darkestPercent),
    plusMinus: barOf(filled, held.darkestPercent, bar),
    ...placesOf(
      part,
      part.darkest.filter(({ tonePercent }) => tonePercent > held.darkestPercent),
    ),
    detail: `${darks} ${percent(held.darkestPercent)}`,
  });
}

/** Share of what is neither clear nor solid; `shareOf` says how much of the tones from one to another counts. */
function sharePercent({ areaByToneMm2 }: RuledPart, shareOf: (from: number, to: number) => number): number {
  let [counted, all] = [0, 0];
  for (let tone = 1; tone < 100; tone++) {
    all += areaByToneMm2[tone];
    counted += areaByToneMm2[tone] * shareOf(tone - 0.5, tone + 0.5);
  }
  return all === 0 ? 0 : (100 * counted) / all;
}

/** How far a share moves when the tones are read wrong by their own error bar. */
function barOf(share: (tone: number) => number, tone: number, bar: number): number {
  const value = share(tone);
  return Math.max(Math.abs(share(tone - bar) - value), Math.abs(share(tone + bar) - value));
}

function placesOf(part: RuledPart, places: readonly TonePlace[]): Pick<Reading, 'boxMm' | 'parts'> {
  if (places.length === 0) return { boxMm: part.boxMm };
  return { boxMm: part.boxMm, parts: places.map(({ boxMm, tonePercent }) => ({ boxMm, value: tonePercent })) };
}

function settingsThatHold({ reading, ticket }: AdviceContext) {
  const [halftone] = reading.halftones!;
  const mesh = ticket.screenFor(reading.inkNames[0]).mesh?.value;
  if (mesh === undefined) return [];
  const isLight = reading.detail!.startsWith(lights);
  const [lightest, darkest] = halftone.tonesPercent;
  return goodSettings(ticket, halftone, mesh, (setting) => {
    if (setting.ruling.angleDeg !== halftone.angleDeg) return false;
    const { rulingLpi } = setting.ruling;
    return isLight
      ? holdsDotsOf(halftone.dotForm, rulingLpi, finestDotMm(setting.mesh), lightest)
      : holdsHolesOf(halftone.dotForm, rulingLpi, finestIslandMm(setting.mesh), darkest);
  });
}

function waysOut(context: AdviceContext): string {
  const [halftone] = context.reading.halftones!;
  const found = settingsThatHold(context);
  return found.length === 0 ? 'it with scattered dots' : `it with ${settingsInWords(found, halftone)}`;
}

function askFor(context: AdviceContext, plea: string): string {
  const [halftone] = context.reading.halftones!;
  const change = filmChangeInWords(settingsThatHold(context), halftone);
  return change === null ? `${plea}.` : `${plea}, or output the film ${change}.`;
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
