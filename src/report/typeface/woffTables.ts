import { inflateSync } from 'node:zlib';

export type FontTables = ReadonlyMap<string, Buffer>;

/**
 * The tables of a font in a WOFF 1.0 file (W3C WOFF File Format 1.0, sections 3 to 5), unpacked. Throws RangeError when
 * the bytes are not WOFF.
 */
export function woffTables(woff: Buffer, wanted: readonly string[]): FontTables {
  if (woff.readUInt32BE(0) !== 0x774f4646) throw new RangeError('The font is not WOFF.');
  const tables = new Map<string, Buffer>();
  const tableCount = woff.readUInt16BE(12);
  for (let index = 0; index < tableCount; index += 1) {
    const at = 44 + index * 20;
    const tag = woff.toString('latin1', at, at + 4);
    if (!wanted.includes(tag)) continue;
    const [offset, packed, length] = [4, 8, 12].map((field) => woff.readUInt32BE(at + field));
    const bytes = woff.subarray(offset, offset + packed);
    tables.set(tag, packed < length ? inflateSync(bytes) : bytes);
  }
  return tables;
}
