import { constants, inflateRawSync, inflateSync } from 'node:zlib';
import type { PDFDict, PDFRawStream } from '@cantoo/pdf-lib';
import { asDict, asName, type PdfValues } from './pdfValues.ts';

/** Most bytes a single stream may unpack to. */
export const maxStreamBytes = 512 * 1024 * 1024;

/**
 * The data of a stream, its filters undone. Null when a filter is an image format (DCT, JPX, CCITT, JBIG2) or the data
 * are damaged beyond use; damaged ends are kept as far as they go.
 */
export function decodedBytes(values: PdfValues, stream: PDFRawStream, limit = maxStreamBytes): Uint8Array | null {
  const known = smallStreams.get(stream);
  if (known) return known;
  const bytes = unpacked(values, stream, limit);
  if (bytes && bytes.length <= smallBytes) smallStreams.set(stream, bytes);
  return bytes;
}

/** Forms and letters are drawn again and again; what they unpack to is kept while their document is. */
const smallStreams = new WeakMap<PDFRawStream, Uint8Array>();
const smallBytes = 65536;

const damaged = new WeakSet<PDFRawStream>();

/** Whether unpacking a stream came upon damage, so that its end may be missing. */
export function isDamaged(stream: PDFRawStream): boolean {
  return damaged.has(stream);
}

function unpacked(values: PdfValues, stream: PDFRawStream, limit: number): Uint8Array | null {
  let bytes: Uint8Array = stream.getContents();
  for (const { filter, parms } of filtersOf(values, stream.dict)) {
    const next = undoFilter(values, filter, parms, bytes, limit, () => damaged.add(stream));
    if (!next) return null;
    bytes = next;
  }
  return bytes;
}

/** Filters of a stream in the order in which they are undone, long names. */
export function filtersOf(values: PdfValues, dict: PDFDict): { filter: string; parms: PDFDict | null }[] {
  const filter = values.get(dict, 'Filter') ?? values.get(dict, 'F');
  const parms = values.get(dict, 'DecodeParms') ?? values.get(dict, 'DP');
  const single = asName(filter);
  if (single !== null) return [{ filter: longName(single), parms: asDict(values.list(parms)?.[0] ?? parms) }];
  const parmList = values.list(parms);
  const found: { filter: string; parms: PDFDict | null }[] = [];
  for (const [index, item] of (values.list(filter) ?? []).entries()) {
    const name = asName(item);
    if (name !== null) found.push({ filter: longName(name), parms: asDict(parmList?.[index] ?? null) });
  }
  return found;
}

const longNames: Readonly<Record<string, string>> = {
  Fl: 'FlateDecode',
  LZW: 'LZWDecode',
  A85: 'ASCII85Decode',
  AHx: 'ASCIIHexDecode',
  RL: 'RunLengthDecode',
  CCF: 'CCITTFaxDecode',
  DCT: 'DCTDecode',
};

export function longName(filter: string): string {
  return longNames[filter] ?? filter;
}

function undoFilter(
  values: PdfValues,
  filter: string,
  parms: PDFDict | null,
  bytes: Uint8Array,
  limit: number,
  onDamage: () => void,
): Uint8Array | null {
  switch (filter) {
    case 'FlateDecode': {
      const plain = inflated(bytes, limit, onDamage);
      return plain && withoutPredictor(values, parms, plain);
    }
    case 'LZWDecode': {
      const plain = undoLzw(bytes, values.number(parms, 'EarlyChange') ?? 1, limit);
      return withoutPredictor(values, parms, plain);
    }
    case 'ASCII85Decode':
      return undoAscii85(bytes);
    case 'ASCIIHexDecode':
      return undoAsciiHex(bytes);
    case 'RunLengthDecode':
      return undoRunLength(bytes, limit);
    case 'Crypt':
      return bytes;
    default:
      return null;
  }
}

function inflated(bytes: Uint8Array, limit: number, onDamage: () => void): Uint8Array | null {
  try {
    return inflateSync(bytes, { maxOutputLength: limit });
  } catch (error) {
    if (error instanceof RangeError) return null;
  }
  onDamage();
  for (const [inflate, from] of [
    [inflateSync, 0],
    [inflateRawSync, 2],
  ] as const) {
    try {
      return inflate(bytes.subarray(from), { maxOutputLength: limit, finishFlush: constants.Z_SYNC_FLUSH });
    } catch {
      // The next way of reading is more lenient.
    }
  }
  return null;
}

function withoutPredictor(values: PdfValues, parms: PDFDict | null, bytes: Uint8Array): Uint8Array {
  const predictor = values.number(parms, 'Predictor') ?? 1;
  if (predictor < 2) return bytes;
  const colours = Math.max(1, values.number(parms, 'Colors') ?? 1);
  const bits = values.number(parms, 'BitsPerComponent') ?? 8;
  const columns = Math.max(1, values.number(parms, 'Columns') ?? 1);
  const pixelBytes = Math.max(1, Math.ceil((colours * bits) / 8));
  const rowBytes = Math.ceil((colours * bits * columns) / 8);
  return predictor === 2 ? undoTiff(bytes, rowBytes, colours, bits) : undoPng(bytes, rowBytes, pixelBytes);
}

function undoTiff(bytes: Uint8Array, rowBytes: number, colours: number, bits: number): Uint8Array {
  if (bits !== 8) return bytes;
  const out = bytes.slice();
  for (let row = 0; row < out.length; row += rowBytes) {
    const end = Math.min(out.length, row + rowBytes);
    for (let at = row + colours; at < end; at++) out[at] = (out[at] + out[at - colours]) & 255;
  }
  return out;
}

function undoPng(bytes: Uint8Array, rowBytes: number, pixelBytes: number): Uint8Array {
  const rows = Math.ceil(bytes.length / (rowBytes + 1));
  const out = new Uint8Array(rows * rowBytes);
  for (let row = 0; row < rows; row++) {
    const from = row * (rowBytes + 1);
    const kind = bytes[from];
    const to = row * rowBytes;
    const length = Math.min(rowBytes, bytes.length - from - 1);
    for (let at = 0; at < length; at++) {
      const left = at >= pixelBytes ? out[to + at - pixelBytes] : 0;
      const up = row > 0 ? out[to + at - rowBytes] : 0;
      const corner = row > 0 && at >= pixelBytes ? out[to + at - rowBytes - pixelBytes] : 0;
      out[to + at] = bytes[from + 1 + at] + pngGuess(kind, left, up, corner);
    }
  }
  return out;
}

function pngGuess(kind: number, left: number, up: number, corner: number): number {
  if (kind === 1) return left;
  if (kind === 2) return up;
  if (kind === 3) return (left + up) >> 1;
  if (kind !== 4) return 0;
  const guess = left + up - corner;
  const dLeft = Math.abs(guess - left);
  const dUp = Math.abs(guess - up);
  const dCorner = Math.abs(guess - corner);
  return dLeft <= dUp && dLeft <= dCorner ? left : dUp <= dCorner ? up : corner;
}

function undoLzw(bytes: Uint8Array, earlyChange: number, limit: number): Uint8Array {
  const out = new GrowingBytes(limit);
  const starts = new Int32Array(4097);
  const lengths = new Int32Array(4097);
  let next = 258;
  let width = 9;
  let bitsHeld = 0;
  let held = 0;
  let previousStart = -1;
  let previousLength = 0;
  for (const byte of bytes) {
    held = ((held << 8) | byte) & 0xffffff;
    bitsHeld += 8;
    if (bitsHeld < width) continue;
    const code = (held >> (bitsHeld - width)) & ((1 << width) - 1);
    bitsHeld -= width;
    if (code === 257) break;
    if (code === 256) {
      next = 258;
      width = 9;
      previousStart = -1;
      continue;
    }
    const start = out.length;
    if (code < 256) out.push(code);
    else if (code < next) out.copyWithin(starts[code], lengths[code]);
    else if (previousStart >= 0) {
      out.copyWithin(previousStart, previousLength);
      out.copyWithin(previousStart, 1);
    } else break;
    if (previousStart >= 0 && next < 4096) {
      starts[next] = previousStart;
      lengths[next] = previousLength + 1;
      next++;
      if (next + earlyChange >= 1 << width && width < 12) width++;
    }
    previousStart = start;
    previousLength = out.length - start;
    if (out.full) break;
  }
  return out.bytes();
}

class GrowingBytes {
  length = 0;
  full = false;
  private held = new Uint8Array(65536);
  private readonly limit: number;

  constructor(limit: number) {
    this.limit = limit;
  }

  push(byte: number): void {
    this.room(1);
    this.held[this.length++] = byte;
  }

  copyWithin(start: number, length: number): void {
    this.room(length);
    for (let k = 0; k < length; k++) this.held[this.length++] = this.held[start + k];
  }

  bytes(): Uint8Array {
    return this.held.slice(0, this.length);
  }

  private room(count: number): void {
    if (this.length + count > this.limit) this.full = true;
    if (this.length + count <= this.held.length) return;
    const larger = new Uint8Array(Math.max(2 * this.held.length, this.length + count));
    larger.set(this.held);
    this.held = larger;
  }
}

function undoAscii85(bytes: Uint8Array): Uint8Array {
  const out: number[] = [];
  const group: number[] = [];
  for (const c of bytes) {
    if (c === 126) break;
    if (c === 122 && group.length === 0) out.push(0, 0, 0, 0);
    else if (c >= 33 && c <= 117) {
      group.push(c - 33);
      if (group.length === 5) {
        pushGroup(out, group, 4);
        group.length = 0;
      }
    }
  }
  if (group.length > 1) {
    const count = group.length - 1;
    while (group.length < 5) group.push(84);
    pushGroup(out, group, count);
  }
  return Uint8Array.from(out);
}

function pushGroup(out: number[], group: readonly number[], count: number): void {
  let value = 0;
  for (const digit of group) value = value * 85 + digit;
  for (let k = 0; k < count; k++) out.push(Math.floor(value / 256 ** (3 - k)) & 255);
}

function undoAsciiHex(bytes: Uint8Array): Uint8Array {
  const out: number[] = [];
  let high = -1;
  for (const c of bytes) {
    if (c === 62) break;
    const digit = c <= 57 ? c - 48 : (c | 32) - 87;
    if (digit < 0 || digit > 15) continue;
    if (high < 0) high = digit;
    else {
      out.push(high * 16 + digit);
      high = -1;
    }
  }
  if (high >= 0) out.push(high * 16);
  return Uint8Array.from(out);
}

function undoRunLength(bytes: Uint8Array, limit: number): Uint8Array {
  const out = new GrowingBytes(limit);
  for (let at = 0; at < bytes.length && bytes[at] !== 128 && !out.full; ) {
    const length = bytes[at++];
    if (length < 128) for (let k = 0; k <= length && at < bytes.length; k++) out.push(bytes[at++]);
    else {
      for (let k = 0; k < 257 - length; k++) out.push(bytes[at]);
      at++;
    }
  }
  return out.bytes();
}
