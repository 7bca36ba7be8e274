import { open, stat } from 'node:fs/promises';
import type { ByteSource } from '../../src/artwork/byteSource.ts';

/** Reads parts of a file that never changes. It is opened for each part: no file stays open between requests. */
export async function fileSource(path: string, name: string): Promise<ByteSource> {
  const { size } = await stat(path);
  return {
    name,
    sizeBytes: size,
    read: async (offset, length) => {
      const bytes = new Uint8Array(Math.max(0, Math.min(length, size - offset)));
      const file = await open(path);
      try {
        let got = 0;
        while (got < bytes.length) {
          const { bytesRead } = await file.read(bytes, got, bytes.length - got, offset + got);
          if (bytesRead === 0) break;
          got += bytesRead;
        }
        return bytes.subarray(0, got);
      } finally {
        await file.close();
      }
    },
  };
}
