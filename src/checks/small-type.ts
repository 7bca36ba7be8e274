import type { ArtObject } from '../artwork/artObject.ts';
import type { PlateFacts } from './ask.ts';
import type { Check } from './check.ts';
import { judgeAtLeast } from './judge.ts';
import { limitsOf, notesBehind, plateIn, plateReading, sizeDoubtOf } from './subject.ts';
import { oneOrMany } from './words.ts';

const reversed = 'reversed out';

export const smallType: Check<'too-small-to-read'> = {
  id: 'small-type',
  title: 'All type is large enough to read',
  failTitle: 'Some type is too small to read',
  asks: 'Is all live type at least the smallest size that stays readable on cloth?',
  sources: [
    {
      kind: 'published',
      citation:
        'A garment printer’s art requirements: type 8 pt or more, reversed 12 pt; with metallic inks 12 and 16 pt',
    },
    { kind: 'houseRule', ticketPath: 'limits.minTypePt' },
  ],
  scope: 'plate',
  worse: 'less',
  limit: (ask, subject) => limitsOf(ask, plateIn(subject)).minTypePt,
  *measure(_ask, subject) {
    const plate = plateIn(subject);
    const doubt = sizeDoubtOf(plate.film);
    let texts = 0;
    const isOnlyType = notesBehind(plate)?.every(({ objectId }) =>
      plate.film.objects.some(({ id, text }) => id === objectId && text !== null),
    );
    for (const [index, object] of plate.film.objects.entries()) {
      if (object.text === null || object.hidden !== null) continue;
      const isReversed = object.isWhite && isReversedOut(plate, index);
      if (!isReversed && !paints(object, plate.inkKey)) continue;
      texts++;
      yield plateReading(plate, {
        value: object.text.sizePt,
        // The size stands in the file, in whatever font it is drawn.
        ...(isOnlyType ? { atWorst: object.text.sizePt } : {}),
        unit: 'pt',
        plusMinus: 0,
        boxMm: object.boxMm,
        objectId: object.id,
        detail: `“${object.text.excerpt}”${isReversed ? `, ${reversed}` : ''}`,
        doubt,
      });
    }
    if (texts === 0) {
      yield { why: 'There is no live type here; the strokes of outlined type are judged as lines and gaps.' };
    }
  },
  judge: (reading, limit) => judgeAtLeast(reading, limit, { beyond: 'too-small-to-read', close: 'too-small-to-read' }),
  advice: {
    'too-small-to-read': {
      customer: ({ reading, limit, placesTotal }) =>
        `${oneOrMany(placesTotal, `A text in ${reading.inkNames[0]} will not stay readable on cloth: it is`, `${placesTotal} texts in ${reading.inkNames[0]} will not stay readable on cloth, the smallest at`)} ${reading.value.toFixed(1)} pt (${reading.detail}). Please enlarge ${oneOrMany(placesTotal, 'it', 'them')} to ${limit.value} pt or drop ${oneOrMany(placesTotal, 'it', 'them')}.`,
      printer: ({ reading, limit }) =>
        `Enlarge ${reading.detail} from ${reading.value.toFixed(1)} to ${limit.value} pt, set it in a bolder cut, or show the customer a strike-off first.`,
    },
  },
};

function paints(object: ArtObject, inkKey: string): boolean {
  return object.inks.some(({ key, tintRatio }) => key === inkKey && tintRatio > 0);
}

/** White type is read in the ink it is cut out of: the last one painted before it that reaches all round it. */
function isReversedOut(plate: PlateFacts, index: number): boolean {
  const { boxMm } = plate.film.objects[index];
  const ground = plate.film.objects
    .slice(0, index)
    .reverse()
    .find(
      (object) =>
        object.hidden === null &&
        object.inks.some(({ tintRatio }) => tintRatio > 0) &&
        object.boxMm.xMm <= boxMm.xMm &&
        object.boxMm.yMm <= boxMm.yMm &&
        object.boxMm.xMm + object.boxMm.widthMm >= boxMm.xMm + boxMm.widthMm &&
        object.boxMm.yMm + object.boxMm.heightMm >= boxMm.yMm + boxMm.heightMm,
    );
  return ground !== undefined && paints(ground, plate.inkKey);
}
