import type { Check } from './check.ts';
import { judgeAtLeast } from './judge.ts';
import { filmName, filmReading, inkNamesOf, sizeDoubtOf } from './subject.ts';
import { counted } from './words.ts';

export const coarseImage: Check<'too-coarse'> = {
  id: 'coarse-image',
  title: 'Every picture has enough pixels for its size',
  failTitle: 'Some pictures have too few pixels for their size',
  asks: 'Does every picture have enough pixels an inch at the size it prints?',
  sources: [
    { kind: 'commonPractice', statement: 'pictures at 200 to 300 pixels an inch at full size' },
    { kind: 'houseRule', ticketPath: 'limits.minImagePpi' },
  ],
  scope: 'job',
  worse: 'less',
  limit: ({ ticket }) => ticket.limits.minImagePpi,
  *measure({ artwork, plates }) {
    let pictures = 0;
    for (const film of artwork.films) {
      const doubt = sizeDoubtOf(film);
      for (const object of film.objects) {
        if (object.image === null || object.hidden !== null) continue;
        pictures++;
        const { widthPx, heightPx, ppiX, ppiY } = object.image;
        yield filmReading(film, {
          value: Math.min(ppiX, ppiY),
          unit: 'ppi',
          plusMinus: 0,
          inkNames: inkNamesOf(plates, film, object),
          boxMm: object.boxMm,
          objectId: object.id,
          detail: `${filmName(film)}: ${widthPx} × ${heightPx} pixels`,
          doubt,
        });
      }
    }
    if (pictures === 0) yield { why: 'The films hold no pictures made of pixels.' };
  },
  judge: (reading, limit) => judgeAtLeast(reading, limit, { beyond: 'too-coarse', close: 'too-coarse' }),
  advice: {
    'too-coarse': {
      customer: ({ reading, limit, placesTotal }) =>
        `At print size ${placesTotal === 1 ? 'your picture has' : `${counted(placesTotal, 'picture')} have as few as`} ${reading.value.toFixed(0)} pixels an inch and will show steps. Please send the original with ${limit.value} or more, or the vector file.`,
      printer: ({ reading, limit }) =>
        `Ask for the original; enlarging ${reading.value.toFixed(0)} ppi to ${limit.value} adds no detail. Print it smaller, or agree the look with the customer.`,
    },
  },
};
