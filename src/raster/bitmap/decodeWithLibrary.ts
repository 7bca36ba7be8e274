import sharp, { type Sharp } from 'sharp';
import { type Band, maxBitmapPixels } from './band.ts';
import type { LibraryLayout } from './bitmapRecipe.ts';
import { DamagedPixels } from './damagedPixels.ts';

/** Bytes of one piece asked of the library: large enough that few pieces are needed, each of which decodes anew. */
const pieceBytes = 400_000_000;
const bandRows = 512;

/** Opens bytes with the image library under this program's own limit of pixels. */
export function openWithLibrary(bytes: Uint8Array, page = 0): Sharp {
  // The library's own pipeline must not see shared memory.
  const own = bytes.buffer instanceof SharedArrayBuffer ? new Uint8Array(bytes) : bytes;
  return sharp(own, { limitInputPixels: maxBitmapPixels, unlimited: true, failOn: 'error', page, ignoreIcc: true });
}

/** Decodes with the image library, piece by piece, into planes of samples. */
export async function* decodeWithLibrary(bytes: Uint8Array, layout: LibraryLayout): AsyncIterable<Band> {
  const { widthPx, heightPx, sampleCount } = layout;
  const pieceRows = Math.max(1, Math.min(heightPx, Math.floor(pieceBytes / (widthPx * sampleCount))));
  for (let pieceTop = 0; pieceTop < heightPx; pieceTop += pieceRows) {
    const pieceHeight = Math.min(pieceRows, heightPx - pieceTop);
    const data = await decodePiece(bytes, layout, pieceTop, pieceHeight);
    for (let done = 0; done < pieceHeight; done += bandRows) {
      const rows = Math.min(bandRows, pieceHeight - done);
      const planes = Array.from({ length: sampleCount }, () => new Uint8Array(widthPx * rows));
      spread(data, done * widthPx * sampleCount, planes);
      yield { kind: 'samples', top: pieceTop + done, rows, planes };
    }
  }
}

/** Takes samples that lie pixel by pixel apart into planes. The usual numbers of them go through memory once. */
function spread(data: Uint8Array, from: number, planes: readonly Uint8Array[]): void {
  const [a, b, c, d] = planes;
  const count = a.length;
  let at = from;
  if (planes.length === 1) a.set(data.subarray(from, from + count));
  else if (planes.length === 3) {
    for (let i = 0; i < count; i++, at += 3) {
      a[i] = data[at];
      b[i] = data[at + 1];
      c[i] = data[at + 2];
    }
  } else if (planes.length === 4) {
    for (let i = 0; i < count; i++, at += 4) {
      a[i] = data[at];
      b[i] = data[at + 1];
      c[i] = data[at + 2];
      d[i] = data[at + 3];
    }
  } else {
    planes.forEach((plane, sample) => {
      for (let i = 0, place = from + sample; i < count; i++, place += planes.length) plane[i] = data[place];
    });
  }
}

async function decodePiece(bytes: Uint8Array, layout: LibraryLayout, top: number, rows: number): Promise<Uint8Array> {
  // Samples are wanted as stored: no profile applied, no way round by way of another colour space.
  let pipeline = openWithLibrary(bytes, layout.page).pipelineColourspace(layout.space);
  if (rows < layout.heightPx) pipeline = pipeline.extract({ left: 0, top, width: layout.widthPx, height: rows });
  try {
    const { data, info } = await pipeline
      .toColourspace(layout.space)
      .raw({ depth: 'uchar' })
      .toBuffer({ resolveWithObject: true });
    if (info.channels !== layout.sampleCount || info.width !== layout.widthPx) {
      throw new DamagedPixels('its pixels are not of the kind it declares');
    }
    return data;
  } catch (error) {
    if (error instanceof DamagedPixels) throw error;
    const early = /premature|truncated|unexpected end|end of (data|file|image)/i.test((error as Error).message);
    throw new DamagedPixels(early ? 'its pixels end too early' : 'its pixels cannot be decoded', early);
  }
}
