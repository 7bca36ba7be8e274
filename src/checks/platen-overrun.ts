import { artBoxOf } from './artBox.ts';
import type { Check } from './check.ts';
import { reaches } from './judge.ts';
import { filmReading, sizeDoubtOf } from './subject.ts';
import { wideMm } from './words.ts';

/** A quarter of an inch: the practical least from image to platen edge. */
const leastMarginMm = 6.35;

export const platenOverrun: Check<'runs-off-the-platen' | 'tight-margin'> = {
  id: 'platen-overrun',
  title: 'The art leaves enough platen all round',
  failTitle: 'The art comes too close to the platen’s edge',
  asks: 'Does the platen reach far enough past the art on every side?',
  sources: [
    {
      kind: 'published',
      citation: 'A supply house’s placement guide: 1 in from image to platen edge, ¼ in the practical least',
    },
    { kind: 'houseRule', ticketPath: 'press.platenMm, limits.platenMarginMm' },
  ],
  scope: 'job',
  worse: 'less',
  limit: ({ ticket }) => ticket.limits.platenMarginMm,
  *measure(ask) {
    const [platenWidthMm, platenHeightMm] = ask.ticket.press.platenMm.value;
    for (const film of ask.artwork.films) {
      const art = artBoxOf(ask, film);
      if (art === null) {
        yield { why: 'The films have no black to take a size from.' };
        continue;
      }
      const marginMm = Math.min(platenWidthMm - art.boxMm.widthMm, platenHeightMm - art.boxMm.heightMm) / 2;
      const doubt = sizeDoubtOf(film) ?? (art.withMarks ? marksDoubt(marginMm) : undefined);
      yield filmReading(film, {
        value: marginMm,
        atWorst: Math.min(platenWidthMm - art.atMostMm.widthMm, platenHeightMm - art.atMostMm.heightMm) / 2,
        unit: 'mm',
        plusMinus: art.plusMinusMm / 2,
        plateIds: art.plateIds,
        inkNames: art.inkNames,
        boxMm: art.boxMm,
        detail: `${wideMm(art.boxMm.widthMm)} × ${wideMm(art.boxMm.heightMm)} on a platen of ${platenWidthMm} × ${platenHeightMm} mm`,
        doubt,
      });
    }
  },
  judge: ({ value, plusMinus }, limit) => {
    if (reaches(value - plusMinus, limit.value)) return { outcome: 'pass' };
    if (reaches(value + plusMinus, Math.min(limit.value, leastMarginMm))) {
      return { outcome: 'needsReview', code: 'tight-margin' };
    }
    return { outcome: 'fail', code: 'runs-off-the-platen' };
  },
  advice: {
    'runs-off-the-platen': {
      customer: ({ reading, limit }) =>
        `The art needs ${wideMm(limit.value - reading.value)} more room on every side of the print board (${reading.detail}). Shall we reduce it?`,
      printer: ({ reading, limit }) =>
        `Reduce the art by ${wideMm(2 * (limit.value - reading.value))}, or use a larger platen: ${wideMm(reading.value)} is left at the edge, ${wideMm(limit.value)} is wanted.`,
    },
    'tight-margin': {
      customer: ({ reading, limit }) =>
        `The art leaves only ${wideMm(reading.value)} of print board at its edge; we like ${wideMm(limit.value)}. We can try it, or reduce the art a little.`,
      printer: ({ reading }) =>
        `Try the platen first: ${wideMm(reading.value)} is above the practical least of ¼ in, but the squeegee may ride over its edge.`,
    },
  },
};

/** Marks off the platen are no trouble; only when the art with its marks comes near the edge is the difference open. */
function marksDoubt(marginMm: number): string | undefined {
  return marginMm < leastMarginMm ? 'The size includes the registration marks.' : undefined;
}
