import type { PlateFacts } from './ask.ts';
import type { Check } from './check.ts';
import { judgeAtMost } from './judge.ts';
import { isBlank, jobReading } from './subject.ts';
import { listed, percent } from './words.ts';

/** Films cut from one page differ by no more. Common practice, no source for the figure. */
const sameSizeMm = 0.5;
const mostNamed = 3;

export const heavyStack: Check<'heavy-solid'> = {
  id: 'heavy-stack',
  title: 'All inks together leave the print soft',
  failTitle: 'The inks together cover so much that the print feels stiff',
  asks: 'Does the coverage of all inks added up leave the print soft?',
  sources: [
    {
      kind: 'commonPractice',
      statement: 'a large solid, and one layer on another, feel stiff and hold heat on a shirt',
    },
    { kind: 'houseRule', ticketPath: 'limits.heavyCoveragePercent' },
  ],
  scope: 'job',
  worse: 'more',
  limit: ({ ticket }) => ticket.limits.heavyCoveragePercent,
  *measure({ plates }) {
    const inked = plates.filter((plate) => !isBlank(plate) || !plate.verified);
    if (inked.length === 0) yield { why: 'The films have no ink.' };
    for (const stack of stacksOf(inked)) {
      const heaviestFirst = [...stack].sort((a, b) => b.opacity.coveragePercent - a.opacity.coveragePercent);
      const [heaviest] = heaviestFirst;
      if (!areOfOneSize(stack)) {
        yield { why: 'The films differ in size, so that the coverage of their inks cannot be added up.' };
        continue;
      }
      yield jobReading({
        value: sumOf(stack.map(({ opacity }) => opacity.coveragePercent)),
        atWorst: sumOf(stack.map(({ verified, opacity }) => (verified ? opacity.coveragePercent : 100))),
        unit: 'percent',
        plusMinus: 0,
        plateIds: stack.map(({ id }) => id),
        inkNames: stack.map(({ ink }) => ink.name),
        filmId: heaviest.film.id,
        boxMm: heaviest.opacity.inkedBoxMm,
        detail: coverageWords(heaviestFirst),
      });
    }
  },
  judge: (reading, limit) => {
    const judgement = judgeAtMost(reading, limit, { beyond: 'heavy-solid', close: 'heavy-solid' });
    return judgement.outcome === 'fail' ? { ...judgement, outcome: 'needsReview' } : judgement;
  },
  advice: {
    'heavy-solid': {
      customer: ({ reading }) =>
        `Added up, the inks cover ${percent(reading.value)} of the film (${reading.detail}): the print will feel stiff. Could the shirt show through in places?`,
      printer: ({ reading, limit }) =>
        `Open up the largest solids with a texture or a tint (${reading.detail}), or knock the inks out of each other, until they add up to ${percent(limit.value)}; or print through finer meshes with a soft additive and warn the customer.`,
    },
  },
};

/** Plates that print on the same ground: those of one composite film, and all films that are separated already. */
function stacksOf(plates: readonly PlateFacts[]): PlateFacts[][] {
  const stacks = new Map<string, PlateFacts[]>();
  for (const plate of plates) {
    const space = plate.film.form === 'separation' ? 'separations' : plate.film.id;
    stacks.set(space, [...(stacks.get(space) ?? []), plate]);
  }
  return [...stacks.values()];
}

function areOfOneSize(plates: readonly PlateFacts[]): boolean {
  const [first] = plates;
  return plates.every(
    ({ film }) =>
      Math.abs(film.widthMm - first.film.widthMm) <= sameSizeMm &&
      Math.abs(film.heightMm - first.film.heightMm) <= sameSizeMm,
  );
}

function coverageWords(heaviestFirst: readonly PlateFacts[]): string {
  const named = heaviestFirst
    .slice(0, mostNamed)
    .map(({ ink, opacity }) => `${ink.name} ${percent(opacity.coveragePercent)}`);
  const others = heaviestFirst.slice(mostNamed);
  if (others.length === 0) return listed(named);
  const rest = percent(sumOf(others.map(({ opacity }) => opacity.coveragePercent)));
  return listed([...named, `${others.length === 1 ? 'one more' : `${others.length} more`} ${rest}`]);
}

function sumOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0);
}
