import type { Film } from '../artwork/film.ts';
import type { Check } from './check.ts';
import { noneOf } from './limits.ts';
import { filmName, filmReading } from './subject.ts';

/** The note a reader leaves on a film whose file says that it is stored wrong-reading. */
const mirroredNote = 'mirrored';

export const mirroredFilm: Check<'says-it-is-mirrored'> = {
  id: 'mirrored-film',
  title: 'No film is mirrored against the others',
  failTitle: 'Some films are mirrored',
  asks: 'Do all films read the right way round?',
  sources: [
    { kind: 'standard', document: 'TIFF 6.0 (1992)', clause: 'Orientation' },
    { kind: 'commonPractice', statement: 'positives for screens are right reading, emulsion side up' },
  ],
  scope: 'job',
  worse: 'more',
  limit: () => noneOf('no film is mirrored'),
  *measure({ artwork, plates }) {
    if (!artwork.films.some(isMirrored)) {
      yield {
        why: 'Nothing in the files says that a film is mirrored, and a picture alone cannot tell. Read its type before exposing.',
      };
      return;
    }
    for (const film of artwork.films) {
      yield filmReading(film, {
        value: isMirrored(film) ? 1 : 0,
        unit: 'count',
        plusMinus: 0,
        inkNames: plates.filter((plate) => plate.film.id === film.id).map(({ ink }) => ink.name),
        boxMm: { xMm: 0, yMm: 0, widthMm: film.widthMm, heightMm: film.heightMm },
        ...(isMirrored(film) ? { detail: `${filmName(film)} carries a mirrored orientation` } : {}),
      });
    }
  },
  judge: ({ value }, limit) =>
    value <= limit.value ? { outcome: 'pass' } : { outcome: 'needsReview', code: 'says-it-is-mirrored' },
  advice: {
    'says-it-is-mirrored': {
      customer: ({ reading }) =>
        `A film is stored as a mirror image (${reading.detail}). We read it the right way round; please tell us that its type is not reversed, or export it again without turning it.`,
      printer: () =>
        'Here it was turned to read right, but other programs may output it as it is stored. Read its type, emulsion side up, before it is exposed; if it is wrong-reading, turn it over in the file, never on the glass.',
    },
  },
};

function isMirrored({ notes }: Film): boolean {
  return notes.some(({ code }) => code === mirroredNote);
}
