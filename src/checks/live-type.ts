import type { Reading } from '../findings/finding.ts';
import type { Check } from './check.ts';
import { noneOf } from './limits.ts';
import { filmReading, inkNamesOf } from './subject.ts';
import { oneOrMany } from './words.ts';

const replaced = 'drawn in another font';
const notEmbedded = 'font not in the file';

export const liveType: Check<'font-replaced' | 'font-not-embedded'> = {
  id: 'live-type',
  title: 'All type brings its font or is outlined',
  failTitle: 'Some type does not bring its font',
  asks: 'Is all type turned into outlines, or its font in the file?',
  sources: [{ kind: 'commonPractice', statement: 'type is sent as outlines, or with its fonts' }],
  scope: 'job',
  worse: 'more',
  limit: () => noneOf('no type without its font'),
  *measure({ artwork, plates }) {
    let texts = 0;
    for (const film of artwork.films) {
      for (const object of film.objects) {
        if (object.text === null || object.hidden !== null) continue;
        texts++;
        const { fontName, embedded, resolved, excerpt } = object.text;
        const trouble = !resolved ? replaced : embedded ? null : notEmbedded;
        yield filmReading(film, {
          value: trouble === null ? 0 : 1,
          unit: 'count',
          plusMinus: 0,
          inkNames: inkNamesOf(plates, film, object),
          boxMm: object.boxMm,
          objectId: object.id,
          ...(trouble === null ? {} : { detail: `“${excerpt}” in ${fontName}: ${trouble}` }),
        });
      }
    }
    if (texts === 0) yield { why: 'The films hold no live type: it is outlined or part of a picture.' };
  },
  judge: ({ value, detail }, limit) => {
    if (value <= limit.value) return { outcome: 'pass' };
    return detail?.endsWith(replaced)
      ? { outcome: 'fail', code: 'font-replaced' }
      : { outcome: 'needsReview', code: 'font-not-embedded' };
  },
  advice: {
    'font-replaced': {
      customer: ({ placesTotal, reading }) =>
        `${oneOrMany(placesTotal, 'A text', `${placesTotal} texts`)} came without the font and would print in another (${whatOf(reading)}). Please turn type into outlines, or attach the fonts.`,
      printer: () =>
        'Do not film it: the type shown is not the customer’s. Ask for outlines, or install the font and run it again.',
    },
    'font-not-embedded': {
      customer: ({ placesTotal, reading }) =>
        `${oneOrMany(placesTotal, 'A text', `${placesTotal} texts`)} came without the font (${whatOf(reading)}); what prints is not certain. Please turn type into outlines, or attach the fonts.`,
      printer: () =>
        'A font of that name was found here, but it need not be the customer’s version. Compare with a proof, or ask for outlines.',
    },
  },
};

/** The text and its font, without what is wrong with it. */
function whatOf({ detail = '' }: Reading): string {
  return detail.slice(0, detail.lastIndexOf(': '));
}
