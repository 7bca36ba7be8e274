import { type ByteSource, readAll } from '../../artwork/byteSource.ts';
import type { ReadFilm } from '../../artwork/film.ts';
import { openWithLibrary } from '../../raster/bitmap/decodeWithLibrary.ts';
import { isJpeg, isPng, isWebp } from '../firstBytes.ts';
import type { Reader, ReadOptions } from '../reader.ts';
import { processInks } from '../tiff/inkChannelsOf.ts';
import { colourFilm } from './colourFilm.ts';
import { inksFilm } from './inksFilm.ts';
import { type CameraHeader, readExif, readJpegHeader } from './jpegHeader.ts';
import { pngFilm } from './pngFilm.ts';
import { requirePixels } from './requirePixels.ts';
import { separationFilm, separationRecipe } from './separationFilm.ts';
import { sharedBytes } from './sharedBytes.ts';
import { damaged, withFileName } from './unreadable.ts';
import { riffChunks } from './webpHeader.ts';

/** Reads PNG, JPEG and WebP pictures: grey and one-bit ones are films of one ink, the others art in colours. */
export const bitmapReader: Reader = {
  formats: ['png', 'jpeg', 'webp'],
  recognises: (head) => isPng(head) || isJpeg(head) || isWebp(head),
  read: async (source, options) => {
    const bytes = sharedBytes(await readAll(source));
    return [await withFileName(source.name, () => readPicture(source, bytes, options))];
  },
};

async function readPicture(source: ByteSource, bytes: Uint8Array, options: ReadOptions): Promise<ReadFilm> {
  if (isPng(bytes)) return pngFilm(source.name, bytes, options);
  if (isJpeg(bytes)) return jpegFilm(source.name, bytes, options);
  return webpFilm(source.name, bytes, options);
}

async function jpegFilm(file: string, bytes: Uint8Array, options: ReadOptions): Promise<ReadFilm> {
  const header = readJpegHeader(bytes);
  const { widthPx, heightPx, sampleCount, orientation, stated } = header;
  requirePixels(file, widthPx, heightPx);
  const base = {
    file,
    page: 1,
    pageCount: 1,
    format: 'jpeg' as const,
    bytes,
    stated,
    separationName: null,
    bitsPerComponent: 8,
    notes: [],
  };
  if (sampleCount === 1) {
    const library = { kind: 'library' as const, widthPx, heightPx, page: 0, space: 'b-w' as const, sampleCount: 1 };
    const recipe = separationRecipe(library, orientation, false, true);
    return separationFilm({ ...base, recipe, colour: 'grey' }, options);
  }
  if (sampleCount === 4) return cmykFilm(base, header, options);
  const library = { kind: 'library' as const, widthPx, heightPx, page: 0, space: 'srgb' as const, sampleCount: 3 };
  return colourFilm({ ...base, source: library, orientation, alpha: null, lossy: true }, options);
}

/** Cyan, magenta, yellow and black; the library turns samples stored upside down the right way, 255 = opaque. */
function cmykFilm(
  base: Omit<Parameters<typeof inksFilm>[0], 'source' | 'orientation' | 'channels'>,
  { widthPx, heightPx, orientation }: CameraHeader,
  options: ReadOptions,
): Promise<ReadFilm> {
  const source = { kind: 'library' as const, widthPx, heightPx, page: 0, space: 'cmyk' as const, sampleCount: 4 };
  const channels = processInks.map(([name, displayHex], sample) => ({
    key: `s${sample}`,
    name,
    kind: 'process' as const,
    displayHex,
    sample,
    invert: false,
  }));
  return inksFilm({ ...base, source, orientation, channels }, options);
}

async function webpFilm(file: string, bytes: Uint8Array, options: ReadOptions): Promise<ReadFilm> {
  const chunks = riffChunks(bytes);
  const exifChunk = chunks.find(({ type }) => type === 'EXIF');
  const exif = readExif(
    exifChunk === undefined ? new Uint8Array(0) : bytes.slice(exifChunk.offset, exifChunk.offset + exifChunk.length),
  );
  const meta = await openWithLibrary(bytes)
    .metadata()
    .catch((cause) => {
      throw damaged(file, 'its pixels cannot be decoded', cause);
    });
  const widthPx = meta.width;
  const heightPx = meta.height;
  requirePixels(file, widthPx, heightPx);
  const hasAlpha = meta.channels === 4;
  return colourFilm(
    {
      file,
      page: 1,
      pageCount: 1,
      format: 'webp',
      bytes,
      stated: exif.stated,
      separationName: null,
      bitsPerComponent: 8,
      notes: [],
      source: { kind: 'library', widthPx, heightPx, page: 0, space: 'srgb', sampleCount: meta.channels },
      orientation: exif.orientation,
      alpha: hasAlpha ? { sample: 3, premultiplied: false } : null,
      lossy: !chunks.some(({ type }) => type === 'VP8L'),
    },
    options,
  );
}
