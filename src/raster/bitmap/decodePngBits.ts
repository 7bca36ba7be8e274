import { wordsPerRowFor } from '../bitPlane.ts';
import { type Band, packRow } from './band.ts';
import type { PngBitsLayout } from './bitmapRecipe.ts';
import { DamagedPixels } from './damagedPixels.ts';
import { inflate } from './inflate.ts';

const bandRows = 512;

/** Decodes a one-bit PNG without interlacing (PNG specification, third edition, sections 9 and 10). */
export function* decodePngBits(bytes: Uint8Array, layout: PngBitsLayout): Iterable<Band> {
  const { widthPx, heightPx } = layout;
  const rowBytes = (widthPx + 7) >> 3;
  const size = (rowBytes + 1) * heightPx;
  const data = inflate(joined(bytes, layout), size);
  if (data.length < size) throw new DamagedPixels('its packed pixels end too early', true);
  const wordsPerRow = wordsPerRowFor(widthPx);
  for (let top = 0; top < heightPx; top += bandRows) {
    const rows = Math.min(bandRows, heightPx - top);
    const words = new Uint32Array(wordsPerRow * rows);
    const target = new Uint8Array(words.buffer);
    for (let row = 0; row < rows; row++) {
      const at = (top + row) * (rowBytes + 1) + 1;
      undoFilter(data, data[at - 1], at, rowBytes, top + row > 0);
      packRow(data, at, target, row * wordsPerRow * 4, widthPx);
    }
    yield { kind: 'bits', top, rows, words };
  }
}

function joined(bytes: Uint8Array, layout: PngBitsLayout): Uint8Array {
  let length = 0;
  for (const piece of layout.pieces) length += piece.length;
  const all = new Uint8Array(length);
  let at = 0;
  for (const piece of layout.pieces) {
    all.set(bytes.subarray(piece.offset, piece.offset + piece.length), at);
    at += piece.length;
  }
  return all;
}

/** Undoes a row's filter in place; the neighbour to the left is one byte away at one bit a pixel. */
function undoFilter(data: Uint8Array, filter: number, at: number, rowBytes: number, hasAbove: boolean): void {
  if (filter === 0) return;
  if (filter > 4) throw new DamagedPixels('a row has an unknown filter');
  const above = at - rowBytes - 1;
  for (let i = 0; i < rowBytes; i++) {
    const left = i > 0 ? data[at + i - 1] : 0;
    const up = hasAbove ? data[above + i] : 0;
    const corner = hasAbove && i > 0 ? data[above + i - 1] : 0;
    const guess = filter === 1 ? left : filter === 2 ? up : filter === 3 ? (left + up) >> 1 : paeth(left, up, corner);
    data[at + i] += guess;
  }
}

function paeth(left: number, up: number, corner: number): number {
  const estimate = left + up - corner;
  const toLeft = Math.abs(estimate - left);
  const toUp = Math.abs(estimate - up);
  const toCorner = Math.abs(estimate - corner);
  if (toLeft <= toUp && toLeft <= toCorner) return left;
  return toUp <= toCorner ? up : corner;
}
