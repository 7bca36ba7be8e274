import { DamagedPixels } from '../../raster/bitmap/damagedPixels.ts';
import { mmPerInch } from '../../units/lengths.ts';
import { readDirectories } from '../tiff/directories.ts';
import { statedResolution } from '../tiff/statedResolution.ts';
import { tiffTags } from '../tiff/tags.ts';
import type { StatedResolution } from './scaleOf.ts';

/** What a JPEG or WebP file says of itself besides its pixels. */
export interface CameraHeader {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly sampleCount: number;
  readonly stated: StatedResolution | null;
  /** As TIFF 6.0, tag 274. */
  readonly orientation: number;
  /** The file marks its inks as stored upside down, 255 = no ink (Adobe marker segment). */
  readonly hasInkMarker: boolean;
}

/** Walks the marker segments of a JPEG file (ITU-T T.81, annex B; JFIF 1.02; Exif 2.3). */
export function readJpegHeader(bytes: Uint8Array): CameraHeader {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let stated: StatedResolution | null = null;
  let exif: Pick<CameraHeader, 'stated' | 'orientation'> = { stated: null, orientation: 1 };
  let hasInkMarker = false;
  let at = 2;
  while (at + 4 <= bytes.length) {
    if (bytes[at] !== 0xff) throw new DamagedPixels('a marker is missing');
    const marker = bytes[at + 1];
    if (marker === 0xff) {
      at++;
      continue;
    }
    const length = view.getUint16(at + 2);
    const data = at + 4;
    if (at + 2 + length > bytes.length) break;
    if (marker === 0xe0 && isText(bytes, data, 'JFIF')) stated = jfifResolution(view, data);
    else if (marker === 0xe1 && isText(bytes, data, 'Exif')) exif = readExif(bytes.slice(data + 6, at + 2 + length));
    else if (marker === 0xee && isText(bytes, data, 'Adobe')) hasInkMarker = true;
    else if (marker >= 0xc0 && marker <= 0xcf && marker !== 0xc4 && marker !== 0xc8 && marker !== 0xcc) {
      return {
        heightPx: view.getUint16(data + 1),
        widthPx: view.getUint16(data + 3),
        sampleCount: bytes[data + 5],
        stated: stated ?? exif.stated,
        orientation: exif.orientation,
        hasInkMarker,
      };
    }
    at += 2 + length;
  }
  throw new DamagedPixels('it ends before its pixels', true);
}

function jfifResolution(view: DataView, data: number): StatedResolution | null {
  const unit = view.getUint8(data + 7);
  const x = view.getUint16(data + 8);
  const y = view.getUint16(data + 10);
  if (unit === 0 || x === 0 || y === 0) return null;
  const perInch = unit === 2 ? mmPerInch / 10 : 1;
  return { ppiX: x * perInch, ppiY: y * perInch };
}

/** Resolution and orientation of an Exif block, which is a TIFF file without an image; nonsense in it says nothing. */
export function readExif(block: Uint8Array): Pick<CameraHeader, 'stated' | 'orientation'> {
  try {
    // WebP files have the block with JPEG's mark before it or without.
    const [directory] = readDirectories(isText(block, 0, 'Exif') ? block.subarray(6) : block);
    const orientation = directory.numbers(tiffTags.orientation)[0] ?? 1;
    return { stated: statedResolution(directory), orientation: orientation >= 1 && orientation <= 8 ? orientation : 1 };
  } catch {
    return { stated: null, orientation: 1 };
  }
}

function isText(bytes: Uint8Array, at: number, text: string): boolean {
  for (let i = 0; i < text.length; i++) if (bytes[at + i] !== text.charCodeAt(i)) return false;
  return true;
}
