import { isDarkGround, isWhiteish, lightnessOfHex } from '../colour/lab.ts';
import { type BoxMm, containsBox } from '../geometry/box.ts';
import type { UnderbaseFit } from '../measurements/overlap.ts';
import type { Ask, PlateFacts } from './ask.ts';
import type { Check } from './check.ts';
import { ownLimit } from './limits.ts';
import { plateById } from './plates.ts';
import { plateReading } from './subject.ts';
import { listed, percent } from './words.ts';

const noBase = 'the job has no base';
/** So little of an ink without base is fine detail the choke takes away. Common practice, no source for the figure. */
const detailSharePercent = 2;
/** Inks this dark (L*) show on a dark shirt as they are. */
const darkInkLightness = 30;

export const underbaseMissing: Check<'no-base' | 'part-without-base' | 'detail-without-base'> = {
  id: 'underbase-missing',
  title: 'Every colour on a dark garment has its base',
  failTitle: 'Some colours on a dark garment have no base',
  asks: 'On a dark garment, does a base lie under every colour that needs one?',
  sources: [
    { kind: 'published', citation: 'An article on printing wet and with flash: the base goes down first on darks' },
    { kind: 'houseRule', ticketPath: 'garment.colour, screens[].role' },
  ],
  scope: 'job',
  worse: 'more',
  limit: ({ ticket }) => {
    const { value, from } = ticket.garment.colourHex;
    if (!isDarkGround(value)) {
      return {
        why: from === 'default' ? 'No garment colour is given; it was taken as white.' : 'The garment is light.',
      };
    }
    return ownLimit(0, 'percent', 'on a dark garment no colour prints without its base');
  },
  *measure(ask) {
    const tops = colouredPlates(ask);
    if (tops.length === 0) yield { why: 'No ink of this job needs a base: they are white or dark.' };
    for (const plate of tops) {
      const filmMm2 = plate.film.widthMm * plate.film.heightMm;
      const inkedMm2 = (filmMm2 * plate.opacity.coveragePercent) / 100;
      const { underbase } = ask;
      if (underbase === null) {
        yield plateReading(plate, {
          value: 100,
          unit: 'percent',
          plusMinus: 0,
          boxMm: plate.opacity.inkedBoxMm,
          detail: noBase,
        });
        continue;
      }
      const bare = bareParts(underbase, plate.id, tops);
      const bareMm2 = bare.reduce((sum, { areaMm2 }) => sum + areaMm2, 0);
      yield plateReading(plate, {
        value: Math.min(100, (100 * bareMm2) / inkedMm2),
        unit: 'percent',
        plusMinus: 0,
        plateIds: [plate.id, underbase.basePlateId],
        filmId: plateById(ask, underbase.basePlateId).film.id,
        parts:
          bare.length === 0
            ? undefined
            : bare.map(({ boxMm, areaMm2 }) => ({ boxMm, value: (100 * areaMm2) / inkedMm2 })),
      });
    }
  },
  judge: ({ value, detail }, limit) => {
    if (value <= limit.value) return { outcome: 'pass' };
    if (detail === noBase) return { outcome: 'fail', code: 'no-base' };
    return value > detailSharePercent
      ? { outcome: 'fail', code: 'part-without-base' }
      : { outcome: 'needsReview', code: 'detail-without-base' };
  },
  advice: {
    'no-base': {
      customer: ({ reading }) =>
        `On this dark shirt ${listed(reading.inkNames)} will look dull without white beneath. May we add a white base, as one more ink?`,
      printer: ({ reading }) =>
        `Make a base under ${listed(reading.inkNames)}, choked, printed first and flashed; or accept this if the ink is opaque enough, or a discharge ink.`,
    },
    'part-without-base': {
      customer: ({ reading }) =>
        `${percent(reading.value)} of ${listed(reading.inkNames)} has no white beneath and will look darker than the rest. Shall we extend the white?`,
      printer: ({ reading }) =>
        `Extend the base under ${listed(reading.inkNames)}: ${percent(reading.value)} of the ink sits on the bare shirt.`,
    },
    'detail-without-base': {
      customer: ({ reading }) =>
        `Fine parts of ${listed(reading.inkNames)} have no white beneath and will look a little darker. Is that all right?`,
      printer: ({ reading }) =>
        `Fine parts of ${listed(reading.inkNames)} are narrower than the choke leaves room for; choke less there, or accept the darker look.`,
    },
  },
};

/**
 * Where an ink prints with no base below: parts far from any, and strips the choke took it from that lie in none of
 * those. A strip under an ink that needs no base is not seen.
 */
function bareParts(
  { unbased, bareStrips }: UnderbaseFit,
  plateId: string,
  tops: readonly PlateFacts[],
): { readonly boxMm: BoxMm; readonly areaMm2: number }[] {
  const parts = unbased.filter((part) => part.plateId === plateId);
  const strips = bareStrips.filter(
    ({ plateIds, xMm, yMm }) =>
      plateIds.includes(plateId) &&
      plateIds.every((id) => tops.some((top) => top.id === id)) &&
      !parts.some(({ boxMm }) => containsBox(boxMm, { xMm, yMm, widthMm: 0, heightMm: 0 })),
  );
  return [...parts, ...strips.map(({ boxMm, widthMm, lengthMm }) => ({ boxMm, areaMm2: widthMm * lengthMm }))];
}

/** Plates of inks that a dark shirt would swallow: neither the base itself, nor dark inks, nor white on its own. */
function colouredPlates(ask: Ask): PlateFacts[] {
  return ask.plates.filter(
    ({ id, ink, opacity }) =>
      opacity.coveragePercent > 0 &&
      id !== ask.underbase?.basePlateId &&
      !isWhiteish(ink.displayHex) &&
      lightnessOfHex(ink.displayHex) >= darkInkLightness,
  );
}
