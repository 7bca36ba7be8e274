/** Bytes of a file as delivered. Readers get this and nothing else, so they never touch a disk or a network. */
export interface ByteSource {
  /** File name without folders, as people will read it. */
  readonly name: string;
  readonly sizeBytes: number;
  /** Reads up to `length` bytes from `offset`; fewer only at the end of the file. */
  read(offset: number, length: number): Promise<Uint8Array>;
}

/** A source over bytes that are in memory already. */
export function byteSourceOf(name: string, bytes: Uint8Array): ByteSource {
  return {
    name,
    sizeBytes: bytes.length,
    read: async (offset, length) => bytes.subarray(offset, Math.min(bytes.length, offset + length)),
  };
}

/** The whole file. */
export function readAll(source: ByteSource): Promise<Uint8Array> {
  return source.read(0, source.sizeBytes);
}
