import type { ArtObject } from '../artwork/artObject.ts';
import { isWhiteish } from '../colour/lab.ts';
import type { Check } from './check.ts';
import { noneOf } from './limits.ts';
import { filmName, filmReading, inkNamesOf } from './subject.ts';
import { counted, oneOrMany } from './words.ts';

type Reason = NonNullable<ArtObject['hidden']>;

const reasonWords: Readonly<Record<Reason, string>> = {
  layerOff: 'on a layer that is switched off',
  covered: 'wholly covered by what lies on top',
  outsidePage: 'outside the page',
  clippedAway: 'clipped away',
  transparent: 'fully transparent',
  sameAsGround: 'white on clear film',
};

export const hiddenObject: Check<'unseen-object' | 'layer-switched-off' | 'white-on-clear'> = {
  id: 'hidden-object',
  title: 'Everything in the file is seen',
  failTitle: 'Some of the file is not seen',
  asks: 'Is everything the file holds visible on its films?',
  sources: [
    {
      kind: 'commonPractice',
      statement: 'what is hidden in a file comes back on another program’s film, or was meant to print',
    },
  ],
  scope: 'job',
  worse: 'more',
  limit: () => noneOf('nothing hidden'),
  *measure({ artwork, plates }) {
    const films = artwork.films.filter(({ nature, objects }) => nature === 'vector' && objects.length > 0);
    if (films.length === 0) yield { why: 'The films are pictures and hold no separate objects.' };
    for (const film of films) {
      const whitePrints = plates.some((plate) => plate.film.id === film.id && isWhiteish(plate.ink.displayHex));
      const hidden = film.objects.filter((object) => object.hidden !== null && matters(object, whitePrints));
      if (hidden.length === 0) {
        yield film.coverNotSought === true
          ? {
              why: `${filmName(film)}: no object was found off the page or on a layer switched off; what lies wholly under something else is not looked for in a PDF.`,
            }
          : filmReading(film, { value: 0, unit: 'count', plusMinus: 0 });
      }
      for (const object of hidden) {
        const label = object.text === null ? object.kind : `“${object.text.excerpt}”`;
        yield filmReading(film, {
          value: 1,
          unit: 'count',
          plusMinus: 0,
          inkNames: inkNamesOf(plates, film, object),
          boxMm: object.boxMm,
          objectId: object.id,
          detail: `${filmName(film)}, ${label}${layerWords(object)}: ${reasonWords[object.hidden!]}`,
        });
      }
    }
  },
  judge: ({ value, detail = '' }, limit) => {
    if (value <= limit.value) return { outcome: 'pass' };
    if (detail.endsWith(reasonWords.layerOff)) return { outcome: 'needsReview', code: 'layer-switched-off' };
    if (detail.endsWith(reasonWords.sameAsGround)) return { outcome: 'needsReview', code: 'white-on-clear' };
    return { outcome: 'needsReview', code: 'unseen-object' };
  },
  advice: {
    'unseen-object': {
      customer: ({ placesTotal, reading }) =>
        `${counted(placesTotal, 'object')} in the file will not be seen (${reading.detail}). Is something missing, or may we delete ${oneOrMany(placesTotal, 'it', 'them')}?`,
      printer: () =>
        'Delete what is hidden before output, so that no other program brings it back; ask first if it looks like art.',
    },
    'layer-switched-off': {
      customer: ({ placesTotal }) =>
        `${counted(placesTotal, 'object lies', 'objects lie')} on a layer that is switched off. Should ${oneOrMany(placesTotal, 'it', 'they')} print?`,
      printer: () => 'Ask whether the switched-off layer belongs to this job; delete it from the film file if not.',
    },
    'white-on-clear': {
      customer: ({ placesTotal }) =>
        `${counted(placesTotal, 'white object')} on empty ground will not print. Did you mean white ink there?`,
      printer: () =>
        'If white ink is wanted, give these objects a named white ink so that they get a film; otherwise delete them.',
    },
  },
};

/** White that is hidden changes nothing, unless somebody meant white ink by it; where white prints, it is seen. */
function matters({ isWhite, hidden }: ArtObject, whitePrints: boolean): boolean {
  return !isWhite || (hidden === 'sameAsGround' && !whitePrints);
}

function layerWords({ layerPath }: ArtObject): string {
  return layerPath.length === 0 ? '' : ` in layer “${layerPath.join(' / ')}”`;
}
