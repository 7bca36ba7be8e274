import { maxBitmapPixels } from '../../raster/bitmap/band.ts';
import type { TiffLayout } from '../../raster/bitmap/bitmapRecipe.ts';
import { BrokenDirectory, type Directory } from './directories.ts';
import { photometrics, tiffTags } from './tags.ts';

/** Compressions decoded here: none, T.4 and T.6, LZW, Deflate, PackBits. */
const ownCompressions = new Set([1, 2, 3, 4, 5, 8, 32946, 32773]);
/** JPEG, the only other packing films come in; the image library reads it. */
export const jpegCompressions = new Set([6, 7]);
/** A strip that unpacks to more than this is left to the image library, which reads it piece by piece. */
const maxChunkBytes = 1_200_000_000;

export interface TiffImage {
  readonly directory: Directory;
  readonly layout: TiffLayout;
  readonly photometric: number;
  readonly orientation: number;
  /** Whether the pixels can be decoded here; else the image library must. */
  readonly own: boolean;
}

/** A packing or a kind of colours no film has. */
export class UnusableImage extends Error {
  override readonly name = 'UnusableImage';
}

export class TooManyPixels extends Error {
  override readonly name = 'TooManyPixels';
}

/** Resolves one directory. Throws `BrokenDirectory` for nonsense, `TooManyPixels` for more than can be drawn. */
export function layoutOf(directory: Directory, fileBytes: number): TiffImage {
  const first = (tag: number, fallback: number) => directory.numbers(tag)[0] ?? fallback;
  const widthPx = first(tiffTags.imageWidth, 0);
  const heightPx = first(tiffTags.imageLength, 0);
  if (!(widthPx > 0 && heightPx > 0)) throw new BrokenDirectory('it does not say how many pixels it has');
  if (widthPx * heightPx > maxBitmapPixels || widthPx > 500_000 || heightPx > 500_000) {
    throw new TooManyPixels(`it declares ${widthPx} × ${heightPx} pixels`);
  }
  const samplesPerPixel = first(tiffTags.samplesPerPixel, 1);
  const allBits = directory.numbers(tiffTags.bitsPerSample);
  const bitsPerSample = allBits[0] ?? 1;
  if (samplesPerPixel < 1 || samplesPerPixel > 64) throw new BrokenDirectory('it has no sensible number of channels');
  const compression = first(tiffTags.compression, 1);
  const photometric = first(tiffTags.photometric, photometrics.whiteIsZero);
  if (!ownCompressions.has(compression) && !jpegCompressions.has(compression)) {
    throw new UnusableImage(`its pixels are packed in a way (compression ${compression}) that films are not`);
  }
  if (photometric > photometrics.yCbCr)
    throw new UnusableImage(`its colours are of kind ${photometric}, not RGB or inks`);
  const predictor = first(tiffTags.predictor, 1);
  const planar = first(tiffTags.planarConfiguration, 1) === 2 && samplesPerPixel > 1;
  const tiled = directory.has(tiffTags.tileOffsets);
  const chunkWidthPx = tiled ? first(tiffTags.tileWidth, 0) : widthPx;
  const chunkHeightPx = tiled
    ? first(tiffTags.tileLength, 0)
    : Math.min(heightPx, Math.max(1, first(tiffTags.rowsPerStrip, heightPx)));
  if (!(chunkWidthPx > 0 && chunkHeightPx > 0)) throw new BrokenDirectory('its tiles have no size');
  const layout: TiffLayout = {
    kind: 'tiff',
    widthPx,
    heightPx,
    bitsPerSample,
    samplesPerPixel,
    planar,
    compression,
    predictor,
    lowBitFirst: first(tiffTags.fillOrder, 1) === 2,
    littleEndian: directory.littleEndian,
    faxOptions: first(tiffTags.t4Options, 0),
    chunkWidthPx,
    chunkHeightPx,
    offsets: directory.numbers(tiled ? tiffTags.tileOffsets : tiffTags.stripOffsets),
    byteCounts: directory.numbers(tiled ? tiffTags.tileByteCounts : tiffTags.stripByteCounts),
    colourMap: photometric === photometrics.palette ? colourMapOf(directory, bitsPerSample) : null,
  };
  const samples = planar ? 1 : samplesPerPixel;
  const chunkBytes = Math.ceil((chunkWidthPx * samples * bitsPerSample) / 8) * chunkHeightPx;
  const fax = compression >= 2 && compression <= 4;
  const own =
    ownCompressions.has(compression) &&
    [1, 2, 4, 8, 16].includes(bitsPerSample) &&
    allBits.every((bits) => bits === bitsPerSample) &&
    photometric <= photometrics.separated &&
    (predictor === 1 || (predictor === 2 && bitsPerSample >= 8)) &&
    (!fax || (bitsPerSample === 1 && samples === 1)) &&
    (chunkBytes <= maxChunkBytes || compression === 1) &&
    directory.numbers(tiffTags.sampleFormat).every((format) => format === 1);
  if (own) requireAllChunks(layout, fileBytes);
  return { directory, layout, photometric, orientation: orientationOf(first(tiffTags.orientation, 1)), own };
}

function requireAllChunks(layout: TiffLayout, fileBytes: number): void {
  const across = Math.ceil(layout.widthPx / layout.chunkWidthPx);
  const down = Math.ceil(layout.heightPx / layout.chunkHeightPx);
  const needed = across * down * (layout.planar ? layout.samplesPerPixel : 1);
  if (layout.offsets.length < needed) throw new BrokenDirectory('some of its strips are missing');
  if (layout.byteCounts.length < needed && needed > 1 && layout.compression !== 1) {
    throw new BrokenDirectory('it does not say how long its strips are');
  }
  for (let i = 0; i < needed; i++) {
    if (layout.offsets[i] + (layout.byteCounts[i] ?? 0) > fileBytes) {
      throw new TruncatedStrips(`strip ${i + 1} of ${needed} lies past the end of the file`);
    }
  }
}

/** The file is shorter than its directory says. */
export class TruncatedStrips extends Error {
  override readonly name = 'TruncatedStrips';
}

function orientationOf(value: number): number {
  return value >= 1 && value <= 8 ? value : 1;
}

function colourMapOf(directory: Directory, bitsPerSample: number): Uint8Array {
  const values = directory.numbers(tiffTags.colourMap);
  const count = 1 << Math.min(bitsPerSample, 16);
  if (values.length < 3 * count) throw new BrokenDirectory('its colour map is missing');
  // Some writers put 8-bit values into the 16-bit map.
  const wide = values.some((value) => value > 255);
  return Uint8Array.from(values.slice(0, 3 * count), (value) => (wide ? value >> 8 : value));
}
