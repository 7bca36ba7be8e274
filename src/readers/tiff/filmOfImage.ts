import type { ReadFilm } from '../../artwork/film.ts';
import type { ReadNote } from '../../artwork/readNote.ts';
import type { BitmapRecipe, BitmapSource, LibraryLayout } from '../../raster/bitmap/bitmapRecipe.ts';
import { alphaNotes } from '../bitmap/alphaNotes.ts';
import { colourFilm } from '../bitmap/colourFilm.ts';
import { inksFilm } from '../bitmap/inksFilm.ts';
import { separationFilm, separationRecipe } from '../bitmap/separationFilm.ts';
import type { ReadOptions } from '../reader.ts';
import type { Directory } from './directories.ts';
import { inkChannelsOf } from './inkChannelsOf.ts';
import { jpegCompressions, type TiffImage } from './layoutOf.ts';
import { statedResolution } from './statedResolution.ts';
import { photometrics, tiffTags } from './tags.ts';

export interface PagePlace {
  readonly file: string;
  readonly page: number;
  readonly pageCount: number;
  /** Directory number in the file, from 0. */
  readonly pageIndex: number;
}

/** Decides what one TIFF image is: one ink's film, several inks' samples, or a picture in colours. */
export async function filmOfImage(
  bytes: Uint8Array,
  image: TiffImage,
  place: PagePlace,
  notes: readonly ReadNote[],
  options: ReadOptions,
): Promise<ReadFilm> {
  const { layout, photometric, orientation, directory } = image;
  const grey = photometric === photometrics.whiteIsZero || photometric === photometrics.blackIsZero;
  const greyPalette = twoGreys(image);
  const base = {
    file: place.file,
    page: place.page,
    pageCount: place.pageCount,
    format: 'tiff' as const,
    bytes,
    stated: statedResolution(directory),
    separationName: pageNameOf(directory),
    bitsPerComponent: layout.bitsPerSample,
    notes,
  };
  const extra = directory.numbers(tiffTags.extraSamples);
  if (greyPalette !== null) {
    const source = { ...layout, colourMap: null };
    const recipe = separationRecipe(source, orientation, true, greyPalette);
    return separationFilm({ ...base, recipe, colour: 'bilevel' }, options);
  }
  const maskOrGrey = grey || photometric === photometrics.mask;
  if (maskOrGrey && layout.samplesPerPixel === 1 + extra.length && extra.length <= 1 && extra[0] !== 0) {
    const oneBit = image.own && layout.bitsPerSample === 1 && layout.samplesPerPixel === 1;
    const source = image.own ? layout : libraryLayout(image, place.pageIndex, 'b-w', layout.samplesPerPixel);
    // The library hands out grey with black as 0 whatever the file says.
    const blackIsZero = image.own ? photometric !== photometrics.whiteIsZero : true;
    const plain = separationRecipe(source, orientation, oneBit, blackIsZero);
    const recipe = withAlpha(plain, extra, 1);
    const colour = layout.bitsPerSample === 1 ? 'bilevel' : 'grey';
    return separationFilm({ ...base, recipe, colour, notes: [...notes, ...alphaNotes(extra.length > 0)] }, options);
  }
  if (photometric === photometrics.separated || maskOrGrey) {
    const inks = inkChannelsOf(image);
    const source = image.own ? layout : libraryLayout(image, place.pageIndex, 'cmyk', layout.samplesPerPixel);
    return inksFilm(
      { ...base, source, orientation, channels: inks.channels, notes: [...notes, ...inks.notes] },
      options,
    );
  }
  const colourSamples = layout.colourMap === null ? layout.samplesPerPixel : 3;
  const source = image.own ? layout : libraryLayout(image, place.pageIndex, 'srgb', colourSamples >= 4 ? 4 : 3);
  const alphaIndex = extra.findIndex((kind) => kind === 1 || kind === 2);
  const alpha =
    alphaIndex < 0 || colourSamples < 4
      ? null
      : { sample: image.own ? 3 + alphaIndex : 3, premultiplied: image.own && extra[alphaIndex] === 1 };
  const spare = colourSamples - 3 - (alpha === null ? 0 : 1);
  const lossy = jpegCompressions.has(layout.compression);
  return colourFilm({ ...base, source, orientation, alpha, lossy, notes: [...notes, ...spareNotes(spare)] }, options);
}

function spareNotes(count: number): readonly ReadNote[] {
  if (count <= 0) return [];
  const message = `Beside red, green and blue the picture has ${count} more channel${count === 1 ? '' : 's'} of no stated kind, left out. If they are inks, save each as a film.`;
  return [{ code: 'extra-channel-left-out', message, affects: 'inks' }];
}

function withAlpha(recipe: BitmapRecipe, extra: readonly number[], sample: number): BitmapRecipe {
  if (extra.length === 0 || recipe.channels.kind !== 'tones') return recipe;
  return { ...recipe, channels: { ...recipe.channels, alpha: { sample, premultiplied: extra[0] === 1 } } };
}

function libraryLayout(
  image: TiffImage,
  page: number,
  space: LibraryLayout['space'],
  sampleCount: number,
): BitmapSource {
  const { widthPx, heightPx } = image.layout;
  return { kind: 'library', widthPx, heightPx, page, space, sampleCount };
}

/** A two-entry colour map of black and white makes a one-bit film; true when entry 0 is the black one. */
function twoGreys(image: TiffImage): boolean | null {
  const map = image.layout.colourMap;
  if (!image.own || map === null || map.length !== 6 || image.layout.samplesPerPixel !== 1) return null;
  const [a, b] = [
    [map[0], map[2], map[4]],
    [map[1], map[3], map[5]],
  ];
  const all = (entry: readonly number[], value: number) => entry.every((component) => component === value);
  if (all(a, 0) && all(b, 255)) return true;
  return all(a, 255) && all(b, 0) ? false : null;
}

function pageNameOf(directory: Directory): string | null {
  for (const tag of [tiffTags.inkNames, tiffTags.pageName, tiffTags.imageDescription]) {
    const name = textOf(directory.bytes(tag)).trim();
    // A description may be a paragraph or a program's own data; a name is short and on one line.
    if (name !== '' && name.length <= 60 && !/[\n\r{}<>=]/.test(name)) return name;
  }
  return null;
}

/** Text up to its first NUL. */
function textOf(bytes: Uint8Array): string {
  const end = bytes.indexOf(0);
  return new TextDecoder().decode(end < 0 ? bytes : bytes.subarray(0, end));
}
