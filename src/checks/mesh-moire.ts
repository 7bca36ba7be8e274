import type { HalftoneFacts, MeshBeat, Reading } from '../findings/finding.ts';
import { directionDegOf, meshVector, periodMmOf, rulingVector } from '../mesh/beat.ts';
import type { BandBeat } from '../mesh/beatBand.ts';
import { stateToDraw } from '../mesh/beatBand.ts';
import { finestDotMm } from '../mesh/detailRules.ts';
import { estimateMoire, usualSight } from '../mesh/moireEstimate.ts';
import type { Setting } from '../mesh/nearSettings.ts';
import { holdsDotsOf, meshToRulingRatio, usableTonesOfMesh } from '../mesh/toneRange.ts';
import type { Mesh } from '../ticket/ticket.ts';
import type { Ask, PlateFacts } from './ask.ts';
import type { AdviceContext, Check } from './check.ts';
import { bandOf, factsOf, meshOf, noMesh, noRuling, type RuledPart, ruledParts, spectrumOf } from './halftoneParts.ts';
import { judgeAtMost } from './judge.ts';
import { filmChangeInWords, goodSettings, settingsInWords } from './nearestSettings.ts';
import { limitsOf, plateIn, plateReading } from './subject.ts';
import { mm, percent } from './words.ts';

/** Beats reckoned and those of prints drawn point by point differ by so much, as a share (see the tests of the beats). */
const reckonedWithin = 0.1;
/** Beats are sought down to here, so that a halftone without visible ones still has a tightest reading. */
const weakestPercent = 0.2;
/** Beats are drawn no longer than this, so that several bands are seen. */
const longestDrawnMm = 6;

export const meshMoire: Check<'seen-plainly' | 'may-be-seen'> = {
  id: 'mesh-moire',
  title: 'By estimate, no halftone beats visibly with its mesh',
  failTitle: 'By estimate, some halftones show moiré with their mesh',
  asks: 'Are the beats of every halftone with its mesh too short or too weak to be seen, by estimate?',
  sources: [
    {
      kind: 'commonPractice',
      statement:
        'eyes are most sensitive near 2 to 6 cycles a degree; how strong a beat must be to show on cloth is an estimate, not measured on prints',
    },
    { kind: 'houseRule', ticketPath: 'limits.moirePercent' },
    { kind: 'houseRule', ticketPath: 'print.viewingDistanceMm' },
  ],
  scope: 'plate',
  worse: 'more',
  limit: (ask, subject) => limitsOf(ask, plateIn(subject)).moirePercent,
  *measure(ask, subject) {
    const plate = plateIn(subject);
    const parts = ruledParts(plate);
    const mesh = meshOf(ask, plate);
    if (parts.length === 0) yield* noRuling(plate);
    else if (mesh === null) yield noMesh(plate);
    else for (const part of parts) yield* beatsOf(ask, plate, part, mesh);
  },
  judge: (reading, limit) => {
    const judgement = judgeAtMost(reading, limit, { beyond: 'may-be-seen', close: 'may-be-seen' });
    if (judgement.outcome === 'pass') return judgement;
    const plainPercent = (limit.value * usualSight.plainPercent) / usualSight.faintPercent;
    const isPlain = reading.beat?.isLong === true && reading.value - reading.plusMinus > plainPercent;
    return isPlain ? { outcome: 'fail', code: 'seen-plainly' } : { outcome: 'needsReview', code: 'may-be-seen' };
  },
  advice: {
    'seen-plainly': {
      customer: (context) => `${bandsInWords(context)} ${plea(context, 'Please')}`,
      printer: (context) => `${beatInWords(context)} ${waysOut(context)}`,
    },
    'may-be-seen': {
      customer: (context) => `${bandsInWords(context)} ${plea(context, 'To be safe, please')}`,
      printer: (context) => `${beatInWords(context)} A test print settles it. ${waysOut(context)}`,
    },
  },
};

function* beatsOf(ask: Ask, plate: PlateFacts, part: RuledPart, mesh: Mesh): Iterable<Reading> {
  const halftone = factsOf(part);
  const spectrum = spectrumOf(halftone);
  const viewingDistanceMm = ask.ticket.print.viewingDistanceMm.value;
  const rule = { ...usualSight, viewingDistanceMm };
  const { strongest, easiest } = estimateMoire(halftone, spectrum, mesh, bandOf(mesh, part), rule, weakestPercent);
  const common = { unit: 'percent', boxMm: part.boxMm, halftones: [halftone] } as const;
  const reading = (beat: BandBeat, isLong: boolean) =>
    plateReading(plate, {
      ...common,
      value: beat.modulationPercent,
      plusMinus: beat.modulationPercent * reckonedWithin,
      beat: factsOfBeat(halftone, mesh, beat, viewingDistanceMm, isLong),
      detail: `an estimate for ${distance(viewingDistanceMm)}: bands ${periodsInWords(beat)} apart`,
    });
  if (easiest !== null) yield reading(easiest, true);
  if (strongest !== null && strongest !== easiest) yield reading(strongest, false);
  if (strongest === null) {
    const detail = `an estimate: no beat of ${mm(rule.leastPeriodShare * viewingDistanceMm)} or more`;
    yield plateReading(plate, { ...common, value: 0, plusMinus: weakestPercent, detail });
  }
}

function factsOfBeat(
  halftone: HalftoneFacts,
  mesh: Mesh,
  beat: BandBeat,
  viewingDistanceMm: number,
  isLong: boolean,
): MeshBeat {
  const { threadsPerCm, threadUm, openingUm } = mesh;
  const state = stateToDraw(halftone, mesh, beat, longestDrawnMm);
  const f = rulingVector(halftone, beat.rulingOrder);
  const g = meshVector(threadsPerCm, beat.meshOrder, state);
  const q = { x: f.x - g.x, y: f.y - g.y };
  return {
    ...halftone,
    tonePercent: beat.tonePercent,
    mesh: { threadsPerCm, threadUm, openingUm },
    rulingOrder: beat.rulingOrder,
    meshOrder: beat.meshOrder,
    modulationPercent: beat.modulationPercent,
    shortestPeriodMm: beat.shortestPeriodMm,
    longestPeriodMm: beat.periodMm < endlessMm ? beat.periodMm : null,
    drawn: { ...state, periodMm: periodMmOf(q), directionDeg: directionDegOf(q) },
    viewingDistanceMm,
    isLong,
  };
}

/** Longer than any print: one shade from side to side. */
const endlessMm = 1000;

function periodsInWords({ periodMm, shortestPeriodMm }: Pick<BandBeat, 'periodMm' | 'shortestPeriodMm'>): string {
  if (periodMm >= endlessMm) return `${mm(shortestPeriodMm)} or more`;
  return mm(periodMm) === mm(shortestPeriodMm) ? mm(periodMm) : `${mm(shortestPeriodMm)} to ${mm(periodMm)}`;
}

function distance(viewingDistanceMm: number): string {
  return `${Number((viewingDistanceMm / 1000).toFixed(2))} m`;
}

function bandsInWords({ reading }: AdviceContext): string {
  const { beat } = reading;
  const apart = beat === undefined ? '' : `, ${periodsInWords(periodsOf(beat))} apart`;
  return `By estimate, the halftone in ${reading.inkNames[0]} may print with bands across it${apart}.`;
}

function periodsOf({ longestPeriodMm, shortestPeriodMm }: MeshBeat) {
  return { periodMm: longestPeriodMm ?? endlessMm, shortestPeriodMm };
}

function beatInWords({ reading }: AdviceContext): string {
  const beat = reading.beat!;
  const orders = `order ${orderInWords(beat.rulingOrder)} of the ruling against ${orderInWords(beat.meshOrder)} of the threads`;
  return `An estimate: ${orders} swings by up to ${percent(beat.modulationPercent)}, in bands ${periodsInWords(periodsOf(beat))} apart as the mesh is stretched.`;
}

function orderInWords(order: readonly [number, number]): string {
  return order.map((part) => String(part).replace('-', '−')).join(', ');
}

/** Settings whose beats are not seen by the same estimate and whose mesh holds the halftone as well; else fainter ones. */
function betterSettings({ reading, limit, ticket }: AdviceContext) {
  const [halftone] = reading.halftones!;
  const mesh = ticket.screenFor(reading.inkNames[0]).mesh!.value;
  const spectrum = spectrumOf(halftone);
  const share = limit.value / usualSight.faintPercent;
  const rule = {
    ...usualSight,
    viewingDistanceMm: ticket.print.viewingDistanceMm.value,
    faintPercent: limit.value / (1 + reckonedWithin),
    plainPercent: usualSight.plainPercent * share,
  };
  const ratio = meshToRulingRatio(mesh, halftone.rulingLpi);
  const held = usableTonesOfMesh(halftone.dotForm, halftone.rulingLpi, mesh).lightestPercent;
  const lightest = Math.max(held, halftone.tonesPercent[0]);
  const search = (sights: readonly string[]) =>
    goodSettings(ticket, halftone, mesh, (setting: Setting) => {
      if (meshToRulingRatio(setting.mesh, setting.ruling.rulingLpi) < Math.min(ratio, 3.5)) return false;
      const { sight } = estimateMoire(setting.ruling, spectrum, setting.mesh, bandOf(mesh), rule);
      if (!sights.includes(sight)) return false;
      return holdsDotsOf(halftone.dotForm, setting.ruling.rulingLpi, finestDotMm(setting.mesh), lightest);
    });
  const free = search(['none']);
  return free.length > 0 ? { found: free, isFree: true } : { found: search(['faint', 'none']), isFree: false };
}

function waysOut(context: AdviceContext): string {
  const [halftone] = context.reading.halftones!;
  const { found, isFree } = betterSettings(context);
  if (found.length === 0) return 'No ruling, angle or mesh near this one beats less: print it with scattered dots.';
  const what = isFree ? 'Nearest without a visible beat' : 'None near it is free of beats; nearest with fainter ones';
  return `${what}: ${settingsInWords(found, halftone)}. Scattered dots beat with no mesh.`;
}

function plea(context: AdviceContext, please: string): string {
  const [halftone] = context.reading.halftones!;
  const change = filmChangeInWords(betterSettings(context).found, halftone);
  return change === null ? `${please} ask us before you change anything.` : `${please} output its film ${change}.`;
}
