import { inflateSync } from 'node:zlib';

/**
 * The font inside a WOFF 1.0 file as plain sfnt (W3C WOFF File Format 1.0, sections 3 to 5): the same tables, inflated,
 * each on a four-byte boundary. Throws RangeError when the bytes are not WOFF.
 */
export function woffToSfnt(woff: Buffer): Buffer {
  if (woff.readUInt32BE(0) !== 0x774f4646) throw new RangeError('The font is not WOFF.');
  const tableCount = woff.readUInt16BE(12);
  const tables = Array.from({ length: tableCount }, (_, index) => {
    const at = 44 + index * 20;
    const [offset, packed, length] = [4, 8, 12].map((field) => woff.readUInt32BE(at + field));
    const bytes = woff.subarray(offset, offset + packed);
    const data = packed < length ? inflateSync(bytes) : bytes;
    return { tag: woff.subarray(at, at + 4), checksum: woff.readUInt32BE(at + 16), data };
  });
  const directoryLength = 12 + 16 * tableCount;
  const padded = (length: number) => (length + 3) & ~3;
  const total = tables.reduce((sum, { data }) => sum + padded(data.length), directoryLength);
  const sfnt = Buffer.alloc(total);
  woff.copy(sfnt, 0, 4, 8);
  const power = Math.floor(Math.log2(tableCount));
  sfnt.writeUInt16BE(tableCount, 4);
  sfnt.writeUInt16BE(16 * 2 ** power, 6);
  sfnt.writeUInt16BE(power, 8);
  sfnt.writeUInt16BE(16 * (tableCount - 2 ** power), 10);
  let at = directoryLength;
  tables.forEach(({ tag, checksum, data }, index) => {
    const entry = 12 + 16 * index;
    tag.copy(sfnt, entry);
    sfnt.writeUInt32BE(checksum, entry + 4);
    sfnt.writeUInt32BE(at, entry + 8);
    sfnt.writeUInt32BE(data.length, entry + 12);
    data.copy(sfnt, at);
    at += padded(data.length);
  });
  return sfnt;
}
