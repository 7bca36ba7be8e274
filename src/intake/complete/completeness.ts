import type { ByteSource } from '../../artwork/byteSource.ts';

/**
 * What a file's own format says about its end: all of it is there, some of it is not, or the format does not tell.
 * Only ends are looked at; whether the file is sound is for its reader.
 */
export type Completeness = 'complete' | 'short' | 'unknown';

export type CompletenessOf = (source: ByteSource) => Promise<Completeness>;

/** The last bytes of a file, at most so many. */
export function readTail(source: ByteSource, length: number): Promise<Uint8Array> {
  const from = Math.max(0, source.sizeBytes - length);
  return source.read(from, source.sizeBytes - from);
}

/** The bytes at a place, or null where the file ends before. */
export async function readWhole(source: ByteSource, offset: number, length: number): Promise<DataView | null> {
  if (offset + length > source.sizeBytes) return null;
  const bytes = await source.read(offset, length);
  return bytes.length < length ? null : new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
}

/** Bytes as characters of one byte each. */
export function latin1(bytes: Uint8Array): string {
  return Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).toString('latin1');
}
