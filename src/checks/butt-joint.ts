import type { ResolvedTicket } from '../ticket/ticket.ts';
import type { Check } from './check.ts';
import { edgeIn, edgeReading, leftOutWords, trapLimit } from './edge.ts';
import { judgeAtMost } from './judge.ts';
import { mm, wideMm } from './words.ts';

/** Where an overlap passes into a gap the edges touch for a moment; that much of a butt is none. */
const crossingMm = 0.5;

export const buttJoint: Check<'edges-butt' | 'edges-may-butt'> = {
  id: 'butt-joint',
  title: 'No inks butt without an overlap',
  failTitle: 'Some inks butt edge to edge without an overlap',
  asks: 'Do inks that meet overlap, rather than butt edge to edge?',
  sources: [
    {
      kind: 'published',
      citation: 'A printer’s guide to trapping: on light shirts line art may butt, if the press can hold it',
    },
    { kind: 'houseRule', ticketPath: 'limits.trapMm' },
  ],
  scope: 'pair',
  worse: 'more',
  limit: (ask, subject) => {
    const edge = edgeIn(ask, subject);
    if ('why' in edge) return edge;
    const trap = trapLimit(ask, edge.plates);
    if (trap.value === 0) return { why: 'The trap asked for is 0: edges are to butt.' };
    return {
      value: 0,
      unit: 'mm',
      from: trap.from,
      rule: `no length of edge without its trap of ${trap.value} mm`,
      source: trap.source,
    };
  },
  *measure(ask, subject) {
    const edge = edgeIn(ask, subject);
    if ('why' in edge) return;
    const { buttedLengthMm, touchingLengthMm, butts } = edge.overlap;
    if (touchingLengthMm <= 0) {
      yield { why: `${edge.inkNames[0]} and ${edge.inkNames[1]} share no edge.${leftOutWords(edge)}` };
      return;
    }
    yield edgeReading(edge, {
      value: buttedLengthMm,
      unit: 'mm',
      plusMinus: buttedLengthMm === 0 ? 0 : crossingMm,
      parts: butts.map(({ boxMm, xMm, yMm, lengthMm }) => ({ boxMm, focusMm: { xMm, yMm }, value: lengthMm })),
      detail: isAll(buttedLengthMm, touchingLengthMm)
        ? `all ${wideMm(touchingLengthMm)} of their edge`
        : `${wideMm(buttedLengthMm)} of ${wideMm(touchingLengthMm)} of edge`,
    });
  },
  judge: (reading, limit) => judgeAtMost(reading, limit, { beyond: 'edges-butt', close: 'edges-may-butt' }),
  advice: {
    'edges-butt': {
      customer: ({ reading }) =>
        `${reading.inkNames[0]} and ${reading.inkNames[1]} butt edge to edge (${reading.detail}); the slightest shift on press shows the shirt. May we add a small overlap?`,
      printer: ({ reading: { inkNames, detail }, ticket }) =>
        `Spread ${inkNames[0]} by ${mm(trapOf(ticket, inkNames))} under ${inkNames[1]} along ${detail}; if this press can hold a butt fit, set limits.trapMm to 0 on the ticket.`,
    },
    'edges-may-butt': {
      customer: ({ reading }) =>
        `${reading.inkNames[0]} and ${reading.inkNames[1]} may touch edge to edge at a point (${reading.detail}). May we add a small overlap?`,
      printer: ({ reading }) =>
        `Look where ${reading.inkNames[0]} and ${reading.inkNames[1]} touch: ${reading.detail} has no measurable overlap.`,
    },
  },
};

function isAll(buttedMm: number, touchingMm: number): boolean {
  return touchingMm - buttedMm < 0.05;
}

/** The larger trap of the two inks. */
function trapOf(ticket: ResolvedTicket, inkNames: readonly string[]): number {
  return Math.max(...inkNames.map((name) => ticket.screenFor(name).limits.trapMm.value));
}
