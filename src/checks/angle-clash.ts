import type { HalftoneFacts, Reading } from '../findings/finding.ts';
import type { BoxMm } from '../geometry/box.ts';
import { angleBetweenDeg, filmBeats } from '../mesh/filmBeats.ts';
import { estimateMoire, usualSight } from '../mesh/moireEstimate.ts';
import { writtenAngle } from '../mesh/nearSettings.ts';
import { rulingPerCmFromLpi } from '../units/lengths.ts';
import type { PlateFacts } from './ask.ts';
import type { AdviceContext, Check, NotApplicable } from './check.ts';
import { bandOf, factsOf, noRuling, type RuledPart, ruledParts, spectrumOf } from './halftoneParts.ts';
import { judgeAtLeast } from './judge.ts';
import { plain } from './nearestSettings.ts';
import { pairIn } from './subject.ts';
import { listed, mm } from './words.ts';

export const angleClash: Check<'clash' | 'close-to-limit'> = {
  id: 'angle-clash',
  title: 'Halftones that print on each other stand at angles far enough apart',
  failTitle: 'Some halftones that print on each other stand at angles that clash',
  asks: 'Are the halftones of inks that print on each other turned far enough against each other?',
  sources: [
    {
      kind: 'commonPractice',
      statement: '30° apart hides the rosette, 15° does for a light ink; inks of one ruling and one angle make none',
    },
    { kind: 'houseRule', ticketPath: 'limits.minAngleDifferenceDeg' },
  ],
  scope: 'pair',
  worse: 'less',
  limit: ({ ticket }) => ticket.limits.minAngleDifferenceDeg,
  *measure(ask, subject) {
    const [first, second] = pairIn(subject);
    const without = [first, second].find((plate) => ruledParts(plate).length === 0);
    if (without) {
      yield* noRuling(without);
      return;
    }
    const overlap = ask.overlaps.find(({ plateIds }) => plateIds[0] === first.id && plateIds[1] === second.id)!;
    if (overlap.sharedAreaMm2 <= 0) {
      yield { why: `${first.ink.name} and ${second.ink.name} do not print on each other.` };
      return;
    }
    for (const part of ruledParts(first)) {
      for (const other of ruledParts(second)) {
        const boxMm = common(part.boxMm, other.boxMm);
        if (boxMm !== null) yield clashOf([first, second], [part, other], boxMm);
      }
    }
  },
  judge: (reading, limit) => judgeAtLeast(reading, limit, { beyond: 'clash', close: 'close-to-limit' }),
  advice: {
    clash: {
      customer: (context) =>
        `The halftones in ${listed(context.reading.inkNames)} stand only ${plain(context.reading.value)}° apart and will show a pattern where they print on each other. Please output ${turnTo(context)}.`,
      printer: (context) =>
        `Where they print on each other: ${context.reading.detail}. Output ${turnTo(context)}, or both at one ruling and one angle, where opaque inks make no rosette.`,
    },
    'close-to-limit': {
      customer: (context) =>
        `The halftones in ${listed(context.reading.inkNames)} stand about ${plain(context.reading.value)}° apart, at the edge of what shows no pattern. Please output ${turnTo(context)} to be safe.`,
      printer: ({ reading, limit }) =>
        `Lay the two films on each other: ${plain(reading.value)}° ± ${reading.plusMinus.toFixed(2)}° cannot settle ${plain(limit.value)}°. A pattern that bothers you there will bother you on the print.`,
    },
  },
};

function clashOf(
  [first, second]: readonly [PlateFacts, PlateFacts],
  [part, other]: readonly [RuledPart, RuledPart],
  boxMm: BoxMm,
): Reading | NotApplicable {
  const [a, b] = [factsOf(part), factsOf(other)];
  const value = angleBetweenDeg(a, b);
  const plusMinus = (part.anglePlusMinusDeg ?? 0) + (other.anglePlusMinusDeg ?? 0);
  if (isInStep(part, other, value, plusMinus, Math.hypot(boxMm.widthMm, boxMm.heightMm))) {
    const names = `${first.ink.name} and ${second.ink.name}`;
    return { why: `${names} are screened at one ruling and one angle, so that they make no rosette.` };
  }
  const [strongest] = filmBeats(a, spectrumOf(a), b, spectrumOf(b));
  const rosette = strongest === undefined ? 'no rosette coarser than the dots' : `rosette of ${mm(strongest.periodMm)}`;
  return {
    value,
    unit: 'deg',
    plusMinus,
    plateIds: [first.id, second.id],
    inkNames: [first.ink.name, second.ink.name],
    filmId: first.film.id,
    boxMm,
    halftones: [a, b],
    detail: `${plain(a.rulingLpi)} lpi at ${plain(a.angleDeg)}° on ${plain(b.rulingLpi)} lpi at ${plain(b.angleDeg)}°, ${rosette}`,
  };
}

/** Whether the two may be of one ruling and one angle: then their beat is longer than what they share. */
function isInStep(part: RuledPart, other: RuledPart, apartDeg: number, angleBarDeg: number, acrossMm: number): boolean {
  const rulingBar = (part.rulingPlusMinusLpi ?? 0) + (other.rulingPlusMinusLpi ?? 0);
  const perMm = (lpi: number) => rulingPerCmFromLpi(lpi) / 10;
  const along = perMm(Math.max(0, Math.abs(part.rulingLpi - other.rulingLpi) - rulingBar));
  const aside = perMm(part.rulingLpi) * Math.max(0, ((apartDeg - angleBarDeg) * Math.PI) / 180);
  return Math.hypot(along, aside) * acrossMm <= 1;
}

function common(a: BoxMm, b: BoxMm): BoxMm | null {
  const xMm = Math.max(a.xMm, b.xMm);
  const yMm = Math.max(a.yMm, b.yMm);
  const widthMm = Math.min(a.xMm + a.widthMm, b.xMm + b.widthMm) - xMm;
  const heightMm = Math.min(a.yMm + a.heightMm, b.yMm + b.heightMm) - yMm;
  return widthMm > 0 && heightMm > 0 ? { xMm, yMm, widthMm, heightMm } : null;
}

/**
 * The smallest turn of the second ink that clears the limit; of such turns, one that by estimate does not beat with its
 * own mesh goes before those that do.
 */
function turnTo({ reading, limit, ticket }: AdviceContext): string {
  const [first, second] = reading.halftones!;
  const turns = Array.from({ length: 181 }, (_, index) => (index % 2 === 0 ? 1 : -1) * Math.ceil(index / 2) * 0.5);
  const clear = turns
    .map((turn) => ({ ...second, angleDeg: writtenAngle(Math.round((second.angleDeg + turn) * 2) / 2, second) }))
    .filter((turned) => angleBetweenDeg(first, turned) >= limit.value);
  const mesh = ticket.screenFor(reading.inkNames[1]).mesh?.value;
  const spectrum = spectrumOf(second);
  const rule = { ...usualSight, viewingDistanceMm: ticket.print.viewingDistanceMm.value };
  const isQuiet = (turned: HalftoneFacts) =>
    mesh === undefined || estimateMoire(turned, spectrum, mesh, bandOf(mesh), rule).sight === 'none';
  // Half way round is as far as they go, whatever was asked for.
  const farthest = { angleDeg: writtenAngle(first.angleDeg + 45, second) };
  const best = clear.find(isQuiet) ?? clear[0] ?? farthest;
  return `${reading.inkNames[1]} at ${plain(best.angleDeg)}°`;
}
