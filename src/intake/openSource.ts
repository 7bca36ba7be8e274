import { basename } from 'node:path';
import type { ByteSource } from '../artwork/byteSource.ts';
import type { Disk } from './disk.ts';

/** Lets something read from a file, which is open as long as it takes. Throws when the file may not be opened. */
export async function withSource<T>(disk: Disk, path: string, use: (source: ByteSource) => Promise<T>): Promise<T> {
  const file = await disk.openToRead(path);
  try {
    const { size } = await file.stat();
    return await use({
      name: basename(path),
      sizeBytes: size,
      read: async (offset, length) => {
        const bytes = new Uint8Array(Math.max(0, Math.min(length, size - offset)));
        let got = 0;
        while (got < bytes.length) {
          const { bytesRead } = await file.read(bytes, got, bytes.length - got, offset + got);
          if (bytesRead === 0) break;
          got += bytesRead;
        }
        return bytes.subarray(0, got);
      },
    });
  } finally {
    await file.close();
  }
}
