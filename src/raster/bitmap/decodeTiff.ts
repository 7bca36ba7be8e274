import { wordsPerRowFor } from '../bitPlane.ts';
import { FaxByKernel } from '../kernels/faxByKernel.ts';
import { type Kernels, lendKernels, takeBackKernels } from '../kernels/kernelModule.ts';
import { type Band, packRow, reversedBits } from './band.ts';
import type { TiffLayout } from './bitmapRecipe.ts';
import { DamagedPixels } from './damagedPixels.ts';
import { FaxDecoder, type FaxKind, type FaxRows } from './decodeFax.ts';
import { decodeLzw } from './decodeLzw.ts';
import { decodePackBits } from './decodePackBits.ts';
import { inflate } from './inflate.ts';
import { unpackSamples } from './unpackSamples.ts';

/** Rows a band of a large strip has: enough to be quick, few enough to be small. */
const bandRows = 512;
/** The most bytes one packed byte can become, by compression: 4094 for each LZW code of 9 bits or more, 128 for two. */
const mostGrowth: ReadonlyMap<number, number> = new Map([
  [5, 4096],
  [32773, 64],
]);

/**
 * Decodes one TIFF image: one-bit images of one sample as words, everything else as planes of 8-bit samples.
 * Throws `DamagedPixels`.
 */
export function* decodeTiff(bytes: Uint8Array, layout: TiffLayout): Iterable<Band> {
  if (layout.bitsPerSample === 1 && layout.samplesPerPixel === 1 && layout.colourMap === null) {
    yield* decodeBits(bytes, layout);
  } else {
    yield* decodeSamples(bytes, layout);
  }
}

function* decodeBits(bytes: Uint8Array, layout: TiffLayout): Iterable<Band> {
  const kernels = isFax(layout) ? lendKernels() : null;
  try {
    yield* decodeBitsBy(kernels, bytes, layout);
  } finally {
    if (kernels !== null) takeBackKernels(kernels);
  }
}

function* decodeBitsBy(kernels: Kernels | null, bytes: Uint8Array, layout: TiffLayout): Iterable<Band> {
  const wordsPerRow = wordsPerRowFor(layout.widthPx);
  const across = Math.ceil(layout.widthPx / layout.chunkWidthPx);
  let faxWords = new Uint32Array(0);
  for (let top = 0, chunkRow = 0; top < layout.heightPx; top += layout.chunkHeightPx, chunkRow++) {
    const rows = Math.min(layout.chunkHeightPx, layout.heightPx - top);
    if (across === 1 && layout.chunkWidthPx === layout.widthPx && isFax(layout)) {
      const decoder = faxRows(chunkBytes(bytes, layout, chunkRow), layout, kernels);
      for (let done = 0; done < rows; done += bandRows) {
        const count = Math.min(bandRows, rows - done);
        if (faxWords.length < wordsPerRow * count) faxWords = new Uint32Array(wordsPerRow * count);
        decoder.decodeRows(count, faxWords, 0);
        yield { kind: 'bits', top: top + done, rows: count, words: faxWords };
      }
      continue;
    }
    const words = new Uint32Array(wordsPerRow * rows);
    const target = new Uint8Array(words.buffer);
    const rowBytes = (layout.chunkWidthPx + 7) >> 3;
    for (let column = 0; column < across; column++) {
      const chunk = decodeChunk(
        bytes,
        layout,
        chunkRow * across + column,
        rowBytes,
        layout.chunkHeightPx,
        rows,
        kernels,
      );
      const left = column * layout.chunkWidthPx;
      const widthPx = Math.min(layout.chunkWidthPx, layout.widthPx - left);
      // A tile's width is a multiple of 16, so it begins on a byte.
      for (let row = 0; row < rows; row++) {
        packRow(chunk, row * rowBytes, target, row * wordsPerRow * 4 + (left >> 3), widthPx);
      }
    }
    yield { kind: 'bits', top, rows, words };
  }
}

function* decodeSamples(bytes: Uint8Array, layout: TiffLayout): Iterable<Band> {
  const across = Math.ceil(layout.widthPx / layout.chunkWidthPx);
  const chunkRows = Math.ceil(layout.heightPx / layout.chunkHeightPx);
  const together = layout.planar ? 1 : layout.samplesPerPixel;
  const rowBytes = Math.ceil((layout.chunkWidthPx * together * layout.bitsPerSample) / 8);
  for (let chunkRow = 0; chunkRow < chunkRows; chunkRow++) {
    const chunkTop = chunkRow * layout.chunkHeightPx;
    const chunkHeight = Math.min(layout.chunkHeightPx, layout.heightPx - chunkTop);
    const chunks: Uint8Array[] = [];
    for (let plane = 0; plane < (layout.planar ? layout.samplesPerPixel : 1); plane++) {
      for (let column = 0; column < across; column++) {
        const index = (plane * chunkRows + chunkRow) * across + column;
        chunks.push(decodeChunk(bytes, layout, index, rowBytes, layout.chunkHeightPx, chunkHeight));
      }
    }
    for (let done = 0; done < chunkHeight; done += bandRows) {
      const rows = Math.min(bandRows, chunkHeight - done);
      const planes = Array.from({ length: layout.samplesPerPixel }, () => new Uint8Array(layout.widthPx * rows));
      chunks.forEach((chunk, index) => {
        const plane = Math.floor(index / across);
        const left = (index % across) * layout.chunkWidthPx;
        unpackSamples(chunk, done, rows, rowBytes, layout, together, left, layout.planar ? [planes[plane]] : planes);
      });
      yield { kind: 'samples', top: chunkTop + done, rows, planes: colourMapped(planes, layout.colourMap) };
    }
  }
}

/** Red, green and blue of an image of palette entries. */
export function colourMapped(planes: Uint8Array[], colourMap: Uint8Array | null): readonly Uint8Array[] {
  if (colourMap === null) return planes;
  const entries = colourMap.length / 3;
  return [0, 1, 2].map((component) => {
    const table = colourMap.subarray(component * entries, (component + 1) * entries);
    return planes[0].map((index) => table[index]);
  });
}

function isFax(layout: TiffLayout): boolean {
  return layout.compression >= 2 && layout.compression <= 4;
}

function faxRows(bytes: Uint8Array, layout: TiffLayout, kernels: Kernels | null): FaxRows {
  const kind: FaxKind = layout.compression === 2 ? 'plain' : layout.compression === 3 ? 'group3' : 'group4';
  const coding = [layout.chunkWidthPx, kind, (layout.faxOptions & 1) === 1] as const;
  return kernels === null ? new FaxDecoder(bytes, ...coding) : new FaxByKernel(kernels, bytes, ...coding);
}

/** The packed bytes of a chunk with the highest bit first. */
function chunkBytes(bytes: Uint8Array, layout: TiffLayout, index: number): Uint8Array {
  const offset = layout.offsets[index];
  const length = layout.byteCounts[index] ?? bytes.length - offset;
  const packed = bytes.subarray(offset, offset + length);
  return layout.lowBitFirst ? packed.map((byte) => reversedBits[byte]) : packed;
}

/** Unpacks a chunk. The last strip of an image has only the rows that are left; tiles always have all of theirs. */
function decodeChunk(
  bytes: Uint8Array,
  layout: TiffLayout,
  index: number,
  rowBytes: number,
  chunkHeight: number,
  neededRows: number,
  kernels: Kernels | null = null,
): Uint8Array {
  const tiled = layout.chunkWidthPx !== layout.widthPx || chunkHeight > layout.heightPx;
  const size = rowBytes * neededRows;
  const packed = chunkBytes(bytes, layout, index);
  if (size > packed.length * (mostGrowth.get(layout.compression) ?? Number.POSITIVE_INFINITY)) {
    throw new DamagedPixels('its strips are shorter than they should be', true);
  }
  let chunk: Uint8Array;
  switch (layout.compression) {
    case 1:
      chunk = layout.predictor === 2 ? packed.slice() : packed;
      break;
    case 2:
    case 3:
    case 4: {
      const words = new Uint32Array(wordsPerRowFor(layout.chunkWidthPx) * neededRows);
      faxRows(packed, layout, kernels).decodeRows(neededRows, words, 0);
      chunk = bytesOfWords(words, layout.chunkWidthPx, neededRows, rowBytes);
      break;
    }
    case 5:
      chunk = new Uint8Array(size);
      decodeLzw(packed, chunk);
      break;
    case 32773:
      chunk = new Uint8Array(size);
      decodePackBits(packed, chunk);
      break;
    default:
      chunk = inflate(packed, tiled ? rowBytes * chunkHeight : size);
  }
  if (chunk.length < size) throw new DamagedPixels('its strips are shorter than they should be', true);
  if (layout.predictor === 2) undoDifferences(chunk, layout, rowBytes, neededRows);
  return chunk;
}

function bytesOfWords(words: Uint32Array, widthPx: number, rows: number, rowBytes: number): Uint8Array {
  const source = new Uint8Array(words.buffer);
  const bytes = new Uint8Array(rowBytes * rows);
  const wordBytes = wordsPerRowFor(widthPx) * 4;
  for (let row = 0; row < rows; row++) {
    for (let i = 0; i < rowBytes; i++) bytes[row * rowBytes + i] = reversedBits[source[row * wordBytes + i]];
  }
  return bytes;
}

/** Predictor 2, TIFF 6.0, section 14: each sample was stored as the difference from the one to its left. */
function undoDifferences(chunk: Uint8Array, layout: TiffLayout, rowBytes: number, rows: number): void {
  const step = layout.planar ? 1 : layout.samplesPerPixel;
  const low = layout.littleEndian ? 0 : 1;
  for (let row = 0; row < rows; row++) {
    const start = row * rowBytes;
    if (layout.bitsPerSample === 8) {
      for (let i = start + step; i < start + rowBytes; i++) chunk[i] += chunk[i - step];
      continue;
    }
    for (let i = start + 2 * step; i + 1 < start + rowBytes; i += 2) {
      const before = chunk[i - 2 * step + low] | (chunk[i - 2 * step + 1 - low] << 8);
      const value = before + (chunk[i + low] | (chunk[i + 1 - low] << 8));
      chunk[i + low] = value & 0xff;
      chunk[i + 1 - low] = (value >> 8) & 0xff;
    }
  }
}
