import type { ReadFilm } from '../../artwork/film.ts';
import type { ReadNote } from '../../artwork/readNote.ts';
import type { BitmapRecipe } from '../../raster/bitmap/bitmapRecipe.ts';
import { readBits } from '../../raster/bitmap/readBits.ts';
import type { ReadOptions } from '../reader.ts';
import { type BitmapFilmParts, bitmapFilm } from './bitmapFilm.ts';
import { type ChannelSurvey, surveyBits, surveyPixels } from './surveyPixels.ts';
import { withFileName } from './unreadable.ts';

export const separationKey = 'film';

/** The one ink's film a grey or one-bit image is. Decodes it once to see what lies on it. */
export async function separationFilm(
  parts: Omit<BitmapFilmParts, 'form' | 'nature' | 'inks' | 'pixels'>,
  options: ReadOptions,
): Promise<ReadFilm> {
  const { bytes, recipe } = parts;
  const rule = recipe.channels;
  const unpack = options.unpackBits ?? readBits;
  const pixels =
    rule.kind === 'bits' ? await withFileName(parts.file, () => unpack(bytes, recipe, rule.invert)) : undefined;
  const survey =
    pixels === undefined ? (await withFileName(parts.file, () => surveyPixels(bytes, recipe)))[0] : surveyBits(pixels);
  const named = parts.separationName !== null;
  return bitmapFilm(
    {
      ...parts,
      pixels,
      form: 'separation',
      nature: 'bitmap',
      inks: [
        {
          key: separationKey,
          name: parts.separationName ?? 'Unnamed',
          kind: named ? 'spot' : 'flat',
          displayHex: '#000000',
          used: survey.used,
        },
      ],
      notes: [...parts.notes, ...polarityNotes(survey)],
    },
    options,
  );
}

/** A one-bit film's recipe, or one of tones; `invert` when the lowest value is opaque. */
export function separationRecipe(
  source: BitmapRecipe['source'],
  orientation: number,
  oneBit: boolean,
  invert: boolean,
): BitmapRecipe {
  return {
    source,
    orientation,
    channels: oneBit
      ? { kind: 'bits', invert }
      : { kind: 'tones', channels: [{ key: separationKey, sample: 0, invert }], alpha: null },
  };
}

/** Common practice, no source: a positive covers less than half of its film and its border is clear. */
function polarityNotes(survey: ChannelSurvey): readonly ReadNote[] {
  if (survey.coverageRatio <= 0.5 || survey.borderRatio <= 0.9) return [];
  return [
    {
      code: 'mostly-black',
      message: `${Math.round(survey.coverageRatio * 100)} % of the film is opaque and so is its border; it may be a negative.`,
      affects: 'nothing',
    },
  ];
}
