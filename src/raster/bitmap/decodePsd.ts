import { wordsPerRowFor } from '../bitPlane.ts';
import { type Band, packRow } from './band.ts';
import type { PsdLayout } from './bitmapRecipe.ts';
import { DamagedPixels } from './damagedPixels.ts';
import { decodePackBits } from './decodePackBits.ts';
import { colourMapped } from './decodeTiff.ts';

const bandRows = 512;

/** Decodes the merged picture of a PSD or PSB file: channel after channel, rows raw or packed with PackBits. */
export function* decodePsd(bytes: Uint8Array, layout: PsdLayout): Iterable<Band> {
  const { widthPx, heightPx, channelCount, bitsPerSample } = layout;
  const rowBytes = Math.ceil((widthPx * bitsPerSample) / 8);
  const rowStart = rowStarts(layout, rowBytes);
  const row = new Uint8Array(rowBytes);
  const readRow = (index: number): Uint8Array => {
    const from = rowStart(index);
    const length = layout.rowLengths === null ? rowBytes : layout.rowLengths[index];
    if (from + length > bytes.length) throw new DamagedPixels('its pixels end too early', true);
    const stored = bytes.subarray(from, from + length);
    if (!layout.packed) return stored;
    decodePackBits(stored, row);
    return row;
  };
  for (let top = 0; top < heightPx; top += bandRows) {
    const rows = Math.min(bandRows, heightPx - top);
    if (bitsPerSample === 1) {
      const wordsPerRow = wordsPerRowFor(widthPx);
      const words = new Uint32Array(wordsPerRow * rows);
      const target = new Uint8Array(words.buffer);
      for (let r = 0; r < rows; r++) packRow(readRow(top + r), 0, target, r * wordsPerRow * 4, widthPx);
      yield { kind: 'bits', top, rows, words };
      continue;
    }
    const step = bitsPerSample / 8;
    const planes = Array.from({ length: channelCount }, (_, channel) => {
      const plane = new Uint8Array(widthPx * rows);
      for (let r = 0; r < rows; r++) {
        const source = readRow(channel * heightPx + top + r);
        if (step === 1) plane.set(source, r * widthPx);
        else for (let c = 0; c < widthPx; c++) plane[r * widthPx + c] = source[c * step];
      }
      return plane;
    });
    yield { kind: 'samples', top, rows, planes: colourMapped(planes, layout.colourMap) };
  }
}

function rowStarts(layout: PsdLayout, rowBytes: number): (index: number) => number {
  const lengths = layout.rowLengths;
  if (lengths === null) return (index) => layout.dataOffset + index * rowBytes;
  const starts = new Float64Array(lengths.length);
  let at = layout.dataOffset;
  for (let i = 0; i < lengths.length; i++) {
    starts[i] = at;
    at += lengths[i];
  }
  return (index) => starts[index];
}
