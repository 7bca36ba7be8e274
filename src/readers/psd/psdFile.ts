import { maxBitmapPixels } from '../../raster/bitmap/band.ts';
import type { PsdLayout } from '../../raster/bitmap/bitmapRecipe.ts';
import { DamagedPixels } from '../../raster/bitmap/damagedPixels.ts';
import { layersOf, type PsdLayer } from './psdLayers.ts';

/** Colour modes of the file header. */
export const psdModes = {
  bitmap: 0,
  grey: 1,
  indexed: 2,
  rgb: 3,
  cmyk: 4,
  multichannel: 7,
  duotone: 8,
  lab: 9,
} as const;

export interface PsdFile {
  readonly mode: number;
  readonly layout: PsdLayout;
  /** Image resources by number: the data of each. */
  readonly resources: ReadonlyMap<number, Uint8Array>;
  readonly layers: readonly PsdLayer[];
  /** The first channel past the colours is the merged picture's transparency. */
  readonly hasTransparency: boolean;
}

/** More pixels or a feature that cannot be drawn. */
export class UnusablePsd extends Error {
  override readonly name = 'UnusablePsd';
  readonly code: 'too-large' | 'unknown-format';

  constructor(code: 'too-large' | 'unknown-format', message: string) {
    super(message);
    this.code = code;
  }
}

/**
 * Reads the sections of a PSD (version 1) or PSB (version 2) file as its published file format specification lays them
 * out: header, colour mode data, image resources, layers, merged picture. Throws `DamagedPixels` or `UnusablePsd`.
 */
export function readPsdFile(bytes: Uint8Array): PsdFile {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  try {
    return readSections(bytes, view);
  } catch (error) {
    if (error instanceof RangeError) throw new DamagedPixels('one of its sections lies past the end', true);
    throw error;
  }
}

function readSections(bytes: Uint8Array, view: DataView): PsdFile {
  const large = view.getUint16(4) === 2;
  const channelCount = view.getUint16(12);
  const heightPx = view.getUint32(14);
  const widthPx = view.getUint32(18);
  const bitsPerSample = view.getUint16(22);
  const mode = view.getUint16(24);
  if (widthPx === 0 || heightPx === 0 || channelCount === 0 || channelCount > 56) {
    throw new DamagedPixels('its header makes no sense');
  }
  if (widthPx * heightPx > maxBitmapPixels) {
    throw new UnusablePsd('too-large', `it declares ${widthPx} × ${heightPx} pixels`);
  }
  if (![1, 8, 16].includes(bitsPerSample)) {
    throw new UnusablePsd('unknown-format', `it has ${bitsPerSample} bits a channel`);
  }
  const colourStart = 30;
  const colourLength = view.getUint32(26);
  const resourcesAt = colourStart + colourLength;
  const resourcesLength = view.getUint32(resourcesAt);
  const layersAt = resourcesAt + 4 + resourcesLength;
  const layersLength = large ? Number(view.getBigUint64(layersAt)) : view.getUint32(layersAt);
  const layersStart = layersAt + (large ? 8 : 4);
  const pictureAt = layersStart + layersLength;
  if (pictureAt + 2 > bytes.length) throw new DamagedPixels('its merged picture is missing', true);
  const { layers, hasTransparency } = layersOf(bytes, layersStart, layersLength, large);
  const compression = view.getUint16(pictureAt);
  if (compression > 1)
    throw new UnusablePsd('unknown-format', 'its merged picture is packed in a way nobody else uses');
  const packed = compression === 1;
  const rowLengths = packed ? rowLengthsOf(view, pictureAt + 2, channelCount * heightPx, large) : null;
  const colourMap =
    mode === psdModes.indexed && colourLength >= 768 ? bytes.slice(colourStart, colourStart + 768) : null;
  return {
    mode,
    layers,
    hasTransparency,
    resources: resourcesOf(bytes, view, resourcesAt + 4, resourcesLength),
    layout: {
      kind: 'psd',
      widthPx,
      heightPx,
      channelCount,
      bitsPerSample,
      packed,
      dataOffset: pictureAt + 2 + (rowLengths === null ? 0 : rowLengths.length * (large ? 4 : 2)),
      rowLengths,
      colourMap,
    },
  };
}

function rowLengthsOf(view: DataView, at: number, count: number, large: boolean): Uint32Array {
  if (at + count * (large ? 4 : 2) > view.byteLength) throw new RangeError('past the end');
  const lengths = new Uint32Array(count);
  for (let i = 0; i < count; i++) lengths[i] = large ? view.getUint32(at + 4 * i) : view.getUint16(at + 2 * i);
  return lengths;
}

function resourcesOf(bytes: Uint8Array, view: DataView, start: number, length: number): Map<number, Uint8Array> {
  const resources = new Map<number, Uint8Array>();
  const end = start + length;
  let at = start;
  while (at + 12 <= end) {
    const id = view.getUint16(at + 4);
    // A name of one length byte and its characters, padded to an even number.
    const nameBytes = (bytes[at + 6] + 2) & ~1;
    const size = view.getUint32(at + 6 + nameBytes);
    const data = at + 10 + nameBytes;
    if (data + size > end) break;
    resources.set(id, bytes.slice(data, data + size));
    at = data + ((size + 1) & ~1);
  }
  return resources;
}
