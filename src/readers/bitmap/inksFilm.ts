import type { ReadFilm } from '../../artwork/film.ts';
import type { InkKind } from '../../artwork/ink.ts';
import { displayHexFor } from '../../artwork/joinColours.ts';
import type { AlphaSample, BitmapSource } from '../../raster/bitmap/bitmapRecipe.ts';
import type { ReadOptions } from '../reader.ts';
import { type BitmapFilmParts, bitmapFilm } from './bitmapFilm.ts';
import { surveyPixels } from './surveyPixels.ts';
import { withFileName } from './unreadable.ts';

/** A sample that is an ink. */
export interface InkChannel {
  readonly key: string;
  readonly name: string;
  readonly kind: InkKind;
  /** Null: one is found for the name. */
  readonly displayHex: string | null;
  readonly sample: number;
  readonly invert: boolean;
}

type InksFilmParts = Omit<BitmapFilmParts, 'form' | 'nature' | 'inks' | 'recipe' | 'colour'> & {
  readonly source: BitmapSource;
  readonly orientation: number;
  readonly channels: readonly InkChannel[];
  readonly alpha?: AlphaSample | null;
};

/** A composite whose samples are inks already. Decodes it once to see which of them are used. */
export async function inksFilm(parts: InksFilmParts, options: ReadOptions): Promise<ReadFilm> {
  const recipe = {
    source: parts.source,
    orientation: parts.orientation,
    channels: {
      kind: 'tones' as const,
      channels: parts.channels.map(({ key, sample, invert }) => ({ key, sample, invert })),
      alpha: parts.alpha ?? null,
    },
  };
  const survey = await withFileName(parts.file, () => surveyPixels(parts.bytes, recipe));
  return bitmapFilm(
    {
      ...parts,
      recipe,
      form: 'composite',
      separationName: null,
      nature: 'bitmap',
      colour: parts.channels.every((channel) => channel.kind === 'process') ? 'cmyk' : 'spot',
      inks: parts.channels.map(({ key, name, kind, displayHex }, index) => ({
        key,
        name,
        kind,
        displayHex: displayHex ?? displayHexFor(name, index),
        used: survey[index].used,
      })),
    },
    options,
  );
}
