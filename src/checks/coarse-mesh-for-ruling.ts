import type { Reading, Unmeasured } from '../findings/finding.ts';
import { nameMesh } from '../mesh/meshLookup.ts';
import { meshToRulingRatio } from '../mesh/toneRange.ts';
import { rulingLpiFromPerCm } from '../units/lengths.ts';
import type { Ask, PlateFacts } from './ask.ts';
import type { AdviceContext, Check } from './check.ts';
import { meshOf, noRuling, type RuledPart, ruledParts } from './halftoneParts.ts';
import { judgeAtLeast } from './judge.ts';
import { meshesToChooseFrom, plain } from './nearestSettings.ts';
import { limitsOf, plateIn, plateReading, plateUnmeasured } from './subject.ts';

/** Under the usual 3.5 threads to a line people print down to 2.5, and differ about it; further down nobody does. */
const lowestShareOfUsual = 2.5 / 3.5;

export const coarseMeshForRuling: Check<'too-coarse' | 'coarse'> = {
  id: 'coarse-mesh-for-ruling',
  title: 'Every halftone has enough threads of its mesh to a line',
  failTitle: 'Some halftones are too fine for their mesh',
  asks: 'Has the mesh of every halftone as many threads to a line of its ruling as it takes to print it evenly?',
  sources: [
    { kind: 'published', citation: 'A weaver’s guide to halftone printing: 2.5, 3.75 or 5 threads to a line' },
    { kind: 'published', citation: 'A trade columnist, 2003: 3.5 or 4 to 1 are the two most common' },
    { kind: 'houseRule', ticketPath: 'limits.minMeshRatio' },
  ],
  scope: 'plate',
  worse: 'less',
  limit: (ask, subject) => limitsOf(ask, plateIn(subject)).minMeshRatio,
  *measure(ask, subject) {
    const plate = plateIn(subject);
    for (const { why, boxMm } of plate.halftone.unclassified) yield { ...plateUnmeasured(plate, why), boxMm };
    const parts = ruledParts(plate);
    if (parts.length === 0) yield* noRuling(plate);
    for (const part of parts) yield ratioOf(ask, plate, part);
  },
  judge: (reading, limit) => {
    const judgement = judgeAtLeast(reading, limit, { beyond: 'too-coarse', close: 'coarse' });
    if (judgement.outcome !== 'fail' || limit.from !== 'default') return judgement;
    const isFarUnder = reading.value + reading.plusMinus < limit.value * lowestShareOfUsual;
    return isFarUnder ? judgement : { outcome: 'needsReview', code: 'coarse' };
  },
  advice: {
    'too-coarse': {
      customer: (context) =>
        `The halftone in ${context.reading.inkNames[0]} is too fine to print evenly on this garment. Please output it with no more than ${finestLines(context)} lines an inch, or let us.`,
      printer: meshOrRuling,
    },
    coarse: {
      customer: (context) =>
        `The halftone in ${context.reading.inkNames[0]} is fine for what it is printed with, and light tones may look grainy. With ${finestLines(context)} lines an inch it prints evenly.`,
      printer: (context) =>
        `Some printers go down to 2.5 threads to a line, others stay above 3.5: a test print decides. ${meshOrRuling(context)}`,
    },
  },
};

function ratioOf(ask: Ask, plate: PlateFacts, part: RuledPart): Reading | Unmeasured {
  const mesh = meshOf(ask, plate);
  if (mesh === null) {
    const reason = `The ticket does not say what ${plate.ink.name} is printed through, so its halftone of ${plain(part.rulingLpi)} lines an inch cannot be judged.`;
    return plateUnmeasured(plate, reason);
  }
  const value = meshToRulingRatio(mesh, part.rulingLpi);
  return plateReading(plate, {
    value,
    unit: 'ratio',
    plusMinus: (value * (part.rulingPlusMinusLpi ?? 0)) / part.rulingLpi,
    boxMm: part.boxMm,
    detail: `${plain(part.rulingLpi)} lpi through mesh ${nameMesh(mesh)}`,
  });
}

/** Rounded down, so that it is never too many. */
function finestLines(context: AdviceContext): string {
  return String(Math.floor(rulingLpiFromPerCm(threadsPerCmOf(context) / context.limit.value) + 1e-6));
}

function meshOrRuling(context: AdviceContext): string {
  const { reading, limit, ticket } = context;
  const neededPerCm = (threadsPerCmOf(context) * limit.value) / reading.value;
  const [coarsest] = [...meshesToChooseFrom(ticket)]
    .filter(({ threadsPerCm }) => threadsPerCm >= neededPerCm - 1e-9)
    .sort((a, b) => a.threadsPerCm - b.threadsPerCm || b.threadUm - a.threadUm);
  const ruling = `output ${reading.inkNames[0]} with ${finestLines(context)} lpi or fewer`;
  const whose = ticket.meshes.length > 0 ? 'none of your meshes' : 'no usual mesh';
  return coarsest === undefined
    ? `${capital(ruling)}; ${whose} is fine enough for it as it is.`
    : `Print ${reading.inkNames[0]} through ${nameMesh(coarsest)}, or ${ruling}.`;
}

function threadsPerCmOf({ reading, ticket }: AdviceContext): number {
  return ticket.screenFor(reading.inkNames[0]).mesh!.value.threadsPerCm;
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
