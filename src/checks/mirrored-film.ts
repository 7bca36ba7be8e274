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
        ...(isMirrored(film) ? { detail: `${filmName(film)} says so itself` } : {}),
      });
    }
  },
  judge: ({ value }, limit) =>
    value <= limit.value ? { outcome: 'pass' } : { outcome: 'needsReview', code: 'says-it-is-mirrored' },
  advice: {
    'says-it-is-mirrored': {
      customer: ({ reading }) =>
        `The file says that it is mirrored (${reading.detail}). Please export it reading the right way round, or tell us it does.`,
      printer: () =>
        'Hold the film emulsion side up and read its type. If it is wrong-reading, turn it over in the file, never on the glass.',
    },
  },
};

function isMirrored({ notes }: Film): boolean {
  return notes.some(({ code }) => code === mirroredNote);
}
