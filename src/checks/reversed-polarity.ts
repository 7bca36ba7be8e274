import type { PlateFacts } from './ask.ts';
import type { Check } from './check.ts';
import { ownLimit } from './limits.ts';
import { isBlank, plateIn, plateReading } from './subject.ts';
import { percent } from './words.ts';

const blackBorder = 'its border is black too';
const edgeToEdge = 'it is inked from edge to edge';
/** The separation reader's own look at the border of a bitmap film. */
const blackBorderNote = 'mostly-black';

export const reversedPolarity: Check<'looks-like-a-negative' | 'inked-to-the-edges'> = {
  id: 'reversed-polarity',
  title: 'Every film is a positive',
  failTitle: 'Some films look like negatives',
  asks: 'Is every film a positive: clear around its art, and black where the ink goes?',
  sources: [
    { kind: 'standard', document: 'TIFF 6.0 (1992)', clause: 'PhotometricInterpretation' },
    {
      kind: 'commonPractice',
      statement: 'a positive covers less than half of its film and its border is clear',
    },
  ],
  scope: 'plate',
  worse: 'more',
  limit: () => ownLimit(50, 'percent', 'a positive with ink at its border covers less than half of its film'),
  *measure(_ask, subject) {
    const plate = plateIn(subject);
    const { coveragePercent, inkedBoxMm } = plate.opacity;
    if (isBlank(plate)) {
      if (plate.verified) yield { why: `${plate.ink.name} has no ink.` };
      return;
    }
    const border = borderOf(plate);
    yield plateReading(plate, {
      value: coveragePercent,
      // With a clear border nothing that is missing makes a negative of a positive, only a fuller one of it.
      atWorst: border === blackBorder ? 100 : coveragePercent,
      unit: 'percent',
      plusMinus: 0,
      boxMm: inkedBoxMm,
      detail: border ?? undefined,
    });
  },
  judge: (reading, limit) => {
    if (reading.value <= limit.value) return { outcome: 'pass' };
    if (reading.detail === blackBorder) return { outcome: 'fail', code: 'looks-like-a-negative' };
    if (reading.detail === edgeToEdge) return { outcome: 'needsReview', code: 'inked-to-the-edges' };
    const shown = {
      value: reading.value,
      plusMinus: 0,
      worse: 'more' as const,
      limit: { ...limit, value: 100, rule: 'a film with a clear border may be as black as it likes' },
    };
    return { outcome: 'pass', shown };
  },
  advice: {
    'looks-like-a-negative': {
      customer: ({ reading }) =>
        `The film for ${reading.inkNames[0]} is ${percent(reading.value)} black and so is its border: it looks reversed. Please export it with black where the ink goes.`,
      printer: ({ reading }) =>
        `Do not expose it: ${reading.inkNames[0]} would print its ground. Invert the film and run it again, or confirm the solid with the customer.`,
    },
    'inked-to-the-edges': {
      customer: ({ reading }) =>
        `${reading.inkNames[0]} fills ${percent(reading.value)} of the film, out to its edges. Is that the print you want, or is the film reversed?`,
      printer: ({ reading }) =>
        `Look at ${reading.inkNames[0]} before it is filmed: a solid out to the edges is either a full ground or a negative.`,
    },
  },
};

function borderOf({ film, opacity, grid }: PlateFacts): string | null {
  if (film.form === 'separation' && film.notes.some(({ code }) => code === blackBorderNote)) return blackBorder;
  if (opacity.inkedBoxMm === null) return null;
  const { xMm, yMm, widthMm, heightMm } = opacity.inkedBoxMm;
  const leftClearMm = Math.max(xMm, yMm, film.widthMm - xMm - widthMm, film.heightMm - yMm - heightMm);
  return leftClearMm <= 2 * Math.max(grid.pitchXMm, grid.pitchYMm) ? edgeToEdge : null;
}
