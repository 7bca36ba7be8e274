import { promisify } from 'node:util';
import { deflate, deflateSync } from 'node:zlib';

/** Pixels as a PNG and a PDF both store them: rows behind a filter byte of 0 each, in a zlib stream. */
export interface PackedPixels {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Red, green and blue of each colour the rows count by one byte a pixel; null when pixels are three bytes. */
  readonly palette: Uint8Array | null;
  readonly stream: Uint8Array;
}

const mostColours = 256;
/** Flat art of a few colours packs as small as at higher levels, in a third of their time. */
const level = 4;
/** Below so many bytes packing is done sooner than handed to another thread. */
const packedHereBytes = 1 << 18;
const deflated = promisify(deflate);

/** Packs pixels given as 0xrrggbb, one word each, row by row; by palette where there are no more than 256 colours. */
export async function packPixels(words: Uint32Array, widthPx: number, heightPx: number): Promise<PackedPixels> {
  const { rows, palette } = indexedRows(words, widthPx, heightPx) ?? {
    rows: plainRows(words, widthPx, heightPx),
    palette: null,
  };
  return { widthPx, heightPx, palette, stream: await packed(rows) };
}

/** Packs tones, each drawn in its colour of 256, as 0xrrggbb. */
export async function packTones(
  tones: Uint8Array,
  colours: Uint32Array,
  widthPx: number,
  heightPx: number,
): Promise<PackedPixels> {
  const rows = new Uint8Array((widthPx + 1) * heightPx);
  const places = new Int16Array(256).fill(-1);
  const used: number[] = [];
  let at = 0;
  let pixel = 0;
  for (let row = 0; row < heightPx; row += 1) {
    at += 1;
    for (const end = pixel + widthPx; pixel < end; pixel += 1) {
      const tone = tones[pixel];
      if (places[tone] < 0) places[tone] = used.push(colours[tone]) - 1;
      rows[at] = places[tone];
      at += 1;
    }
  }
  return { widthPx, heightPx, palette: paletteOf(used), stream: await packed(rows) };
}

function packed(rows: Uint8Array): Uint8Array | Promise<Uint8Array> {
  return rows.length < packedHereBytes ? deflateSync(rows, { level }) : deflated(rows, { level });
}

function plainRows(words: Uint32Array, widthPx: number, heightPx: number): Uint8Array {
  const rows = new Uint8Array((widthPx * 3 + 1) * heightPx);
  let at = 0;
  let pixel = 0;
  for (let row = 0; row < heightPx; row += 1) {
    at += 1;
    for (const end = pixel + widthPx; pixel < end; pixel += 1) {
      const word = words[pixel];
      rows[at] = word >> 16;
      rows[at + 1] = word >> 8;
      rows[at + 2] = word;
      at += 3;
    }
  }
  return rows;
}

function indexedRows(
  words: Uint32Array,
  widthPx: number,
  heightPx: number,
): { rows: Uint8Array; palette: Uint8Array } | null {
  const indices = new Map<number, number>();
  const rows = new Uint8Array((widthPx + 1) * heightPx);
  let last = -1;
  let index = 0;
  let at = 0;
  let pixel = 0;
  for (let row = 0; row < heightPx; row += 1) {
    at += 1;
    for (const end = pixel + widthPx; pixel < end; pixel += 1) {
      const word = words[pixel];
      if (word !== last) {
        const known = indices.get(word);
        index = known ?? indices.size;
        if (index === mostColours) return null;
        if (known === undefined) indices.set(word, index);
        last = word;
      }
      rows[at] = index;
      at += 1;
    }
  }
  return { rows, palette: paletteOf([...indices.keys()]) };
}

function paletteOf(words: readonly number[]): Uint8Array {
  return Uint8Array.from(words.flatMap((word) => [word >> 16, (word >> 8) & 255, word & 255]));
}

const signature = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
const colourByPalette = 3;
const colourByChannels = 2;

/** The pixels as a PNG file (W3C Portable Network Graphics, clauses 5 and 11), eight bits a sample. */
export function pngOf({ widthPx, heightPx, palette, stream }: PackedPixels): Buffer {
  const head = Buffer.alloc(13);
  head.writeUInt32BE(widthPx, 0);
  head.writeUInt32BE(heightPx, 4);
  head.set([8, palette === null ? colourByChannels : colourByPalette], 8);
  return Buffer.concat([
    signature,
    ...chunk('IHDR', head),
    ...(palette === null ? [] : chunk('PLTE', palette)),
    ...chunk('IDAT', stream),
    ...chunk('IEND', new Uint8Array(0)),
  ]);
}

function chunk(type: string, data: Uint8Array): Uint8Array[] {
  const head = Buffer.alloc(8);
  head.writeUInt32BE(data.length, 0);
  head.write(type, 4, 'latin1');
  const check = Buffer.alloc(4);
  check.writeUInt32BE(~crcOf(data, crcOf(head.subarray(4), ~0)) >>> 0, 0);
  return [head, data, check];
}

const crcTable = Uint32Array.from({ length: 256 }, (_, byte) => {
  let crc = byte;
  for (let bit = 0; bit < 8; bit += 1) crc = crc & 1 ? 0xedb88320 ^ (crc >>> 1) : crc >>> 1;
  return crc;
});

/** The running check sum of clause 5.5, before its last complement. */
function crcOf(bytes: Uint8Array, from: number): number {
  let crc = from;
  for (let at = 0; at < bytes.length; at += 1) crc = crcTable[(crc ^ bytes[at]) & 255] ^ (crc >>> 8);
  return crc;
}
