import { DamagedPixels } from '../../raster/bitmap/damagedPixels.ts';
import { mmPerInch } from '../../units/lengths.ts';
import type { StatedResolution } from './scaleOf.ts';

/** What a PNG file says before its pixels (PNG specification, third edition, section 11). */
export interface PngHeader {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly bitDepth: number;
  /** 0 grey, 2 colour, 3 indexed, 4 grey with alpha, 6 colour with alpha. */
  readonly colourType: number;
  readonly interlaced: boolean;
  readonly stated: StatedResolution | null;
  /** Three bytes an entry; null without one. */
  readonly palette: Uint8Array | null;
  /** The file makes some colour see-through. */
  readonly hasTransparency: boolean;
  readonly pieces: readonly { readonly offset: number; readonly length: number }[];
}

/** Walks the chunks of a PNG file. Throws `DamagedPixels` when it is cut short or makes no sense. */
export function readPngHeader(bytes: Uint8Array): PngHeader {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (bytes.length < 33) throw new DamagedPixels('it ends within its header', true);
  const pieces: { offset: number; length: number }[] = [];
  let stated: StatedResolution | null = null;
  let palette: Uint8Array | null = null;
  let hasTransparency = false;
  let at = 8;
  let ended = false;
  while (at + 12 <= bytes.length) {
    const length = view.getUint32(at);
    const type = String.fromCharCode(...bytes.subarray(at + 4, at + 8));
    const data = at + 8;
    if (data + length + 4 > bytes.length) break;
    if (type === 'IDAT') pieces.push({ offset: data, length });
    else if (type === 'PLTE') palette = bytes.slice(data, data + length);
    else if (type === 'tRNS') hasTransparency = true;
    else if (type === 'pHYs' && length >= 9 && bytes[data + 8] === 1) {
      const toPpi = (perMetre: number) => (perMetre / 1000) * mmPerInch;
      stated = { ppiX: toPpi(view.getUint32(data)), ppiY: toPpi(view.getUint32(data + 4)) };
    } else if (type === 'IEND') {
      ended = true;
      break;
    }
    at = data + length + 4;
  }
  if (!ended || pieces.length === 0) throw new DamagedPixels('its end is missing', true);
  return {
    widthPx: view.getUint32(16),
    heightPx: view.getUint32(20),
    bitDepth: bytes[24],
    colourType: bytes[25],
    interlaced: bytes[28] !== 0,
    stated,
    palette,
    hasTransparency,
    pieces,
  };
}
