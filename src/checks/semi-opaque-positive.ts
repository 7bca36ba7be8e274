import type { Opacity } from '../measurements/opacity.ts';
import type { Check } from './check.ts';
import { judgeAtMost, reaches } from './judge.ts';
import { ownLimit } from './limits.ts';
import { isBlank, plateIn, plateReading } from './subject.ts';
import { percent } from './words.ts';

const strongest = 'strongest tone on the film';

export const semiOpaquePositive: Check<'grey-areas' | 'nowhere-black'> = {
  id: 'semi-opaque-positive',
  title: 'Every film is black or clear, nothing between',
  failTitle: 'Some films are grey where they must be black or clear',
  asks: 'As drawn in the file, is every film fully black where ink goes and clear elsewhere?',
  sources: [
    {
      kind: 'published',
      citation:
        'An emulsion maker’s page on evaluating artwork: thin black hardens the image, hazy clear under-cures the rest',
    },
    { kind: 'houseRule', ticketPath: 'limits.semiOpaquePercent' },
  ],
  scope: 'plate',
  worse: 'more',
  limit: ({ ticket }) => ticket.limits.semiOpaquePercent,
  *measure(_ask, subject) {
    const plate = plateIn(subject);
    const { semiOpaquePercent, maxInkPercent, inkedBoxMm, semiOpaqueAreas } = plate.opacity;
    if (isBlank(plate)) {
      if (plate.verified) yield { why: `${plate.ink.name} has no ink.` };
      return;
    }
    const filmMm2 = plate.film.widthMm * plate.film.heightMm;
    yield plateReading(plate, {
      value: semiOpaquePercent,
      unit: 'percent',
      plusMinus: 0,
      parts: semiOpaqueAreas.map(({ boxMm, areaMm2 }) => ({ boxMm, value: (100 * areaMm2) / filmMm2 })),
      detail: greyInWords(plate.opacity),
    });
    yield plateReading(plate, {
      value: maxInkPercent,
      unit: 'percent',
      plusMinus: 0,
      boxMm: inkedBoxMm,
      detail: strongest,
    });
  },
  judge: (reading, limit) => {
    if (reading.detail !== strongest) {
      return judgeAtMost(reading, limit, { beyond: 'grey-areas', close: 'grey-areas' });
    }
    const shown = {
      value: reading.value,
      plusMinus: reading.plusMinus,
      worse: 'less' as const,
      limit: ownLimit(100, 'percent', 'somewhere the film is fully black, to the nearest of 200 tones'),
    };
    return reaches(reading.value, 99.5)
      ? { outcome: 'pass', shown }
      : { outcome: 'fail', code: 'nowhere-black', shown };
  },
  advice: {
    'grey-areas': {
      customer: ({ reading }) =>
        `${percent(reading.value)} of the film for ${reading.inkNames[0]} is grey, and a film must be black or clear. Please use solid ink there, or tell us to make it dots.`,
      printer: ({ reading }) =>
        `Have the grey of ${reading.inkNames[0]} made into halftone dots at output, or set to 100 %; as drawn it half-exposes the stencil.`,
    },
    'nowhere-black': {
      customer: ({ reading }) =>
        `${reading.inkNames[0]} is drawn at ${percent(reading.value)} at most. Please set it to 100 % of its ink.`,
      printer: ({ reading }) =>
        `Set ${reading.inkNames[0]} to 100 % before output, or have its ${percent(reading.value)} made into dots if a tint is wanted.`,
    },
  },
};

/** The tones of what is grey, what it looks like, and what was left out because it is dots. */
function greyInWords(opacity: Opacity): string | undefined {
  const { toneMinPercent, toneMaxPercent, semiOpaqueAreas, softScreenedPercent } = opacity;
  if (toneMinPercent === null || toneMaxPercent === null) return undefined;
  const [least, most] = [percent(toneMinPercent), percent(toneMaxPercent)];
  const tones = least === most ? `a tone of ${least}` : `tones from ${least} to ${most}`;
  const varied = semiOpaqueAreas.some(({ kind }) => kind === 'varied')
    ? ', part of it a picture or a run of tones'
    : '';
  const screened =
    softScreenedPercent > 0 ? `; ${percent(softScreenedPercent)} more is halftone with soft dots, which may stay` : '';
  return `${tones}${varied}${screened}`;
}
