import type { ArtObject } from '../artwork/artObject.ts';
import type { Check } from './check.ts';
import { noneOf } from './limits.ts';
import { filmName, filmReading } from './subject.ts';
import { counted, oneOrMany } from './words.ts';

const vanishes = 'white set to overprint, which prints nothing';
const mayVanish = 'white set to overprint, which some programs print and some leave out';

export const whiteOverprint: Check<'white-vanishes' | 'white-may-vanish'> = {
  id: 'white-overprint',
  title: 'No white is set to overprint',
  failTitle: 'Some white is set to overprint and vanishes',
  asks: 'Does all white and all ink of 0 % knock out what lies below it?',
  sources: [{ kind: 'standard', document: 'PDF Reference', clause: '4.5.6, overprint control' }],
  scope: 'job',
  worse: 'more',
  limit: () => noneOf('no white overprints'),
  *measure({ artwork }) {
    let whites = 0;
    for (const film of artwork.films) {
      for (const object of film.objects) {
        if (object.hidden !== null || !isPaintedInNothing(object)) continue;
        whites++;
        const trouble = troubleOf(object);
        yield filmReading(film, {
          value: trouble === null ? 0 : 1,
          unit: 'count',
          plusMinus: 0,
          boxMm: object.boxMm,
          objectId: object.id,
          detail: trouble === null ? undefined : `${filmName(film)}: ${trouble}`,
        });
      }
    }
    if (whites === 0) yield { why: 'Nothing is painted in white or in 0 % of an ink.' };
  },
  judge: ({ value, detail }, limit) => {
    if (value <= limit.value) return { outcome: 'pass' };
    return detail?.endsWith(vanishes)
      ? { outcome: 'fail', code: 'white-vanishes' }
      : { outcome: 'needsReview', code: 'white-may-vanish' };
  },
  advice: {
    'white-vanishes': {
      customer: ({ placesTotal }) =>
        `${counted(placesTotal, 'white object')} will vanish, because ${oneOrMany(placesTotal, 'it is', 'they are')} set to print over what lies below. Please switch overprint off for white.`,
      printer: () => 'Switch overprint off for white and 0 % objects so that they knock out, and run the job again.',
    },
    'white-may-vanish': {
      customer: ({ placesTotal }) =>
        `${counted(placesTotal, 'white object')} may vanish, because ${oneOrMany(placesTotal, 'it is', 'they are')} set to print over what lies below. Please switch overprint off for white.`,
      printer: () =>
        'Output programs differ here: switch overprint off for these objects, then they knock out everywhere.',
    },
  },
};

function isPaintedInNothing({ isWhite, inks }: ArtObject): boolean {
  return isWhite || (inks.length > 0 && inks.every(({ tintRatio }) => tintRatio === 0));
}

/** In a spot colour, or in process colour with overprint mode 1, nought leaves what is below; else programs differ. */
function troubleOf({ overprint, kind, inks }: ArtObject): string | null {
  if (overprint === null || !(kind === 'stroke' ? overprint.stroke : overprint.fill)) return null;
  return inks.length > 0 || overprint.mode === 1 ? vanishes : mayVanish;
}
