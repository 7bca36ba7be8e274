import { inflateSync } from 'node:zlib';
import { DamagedPixels } from './damagedPixels.ts';

/** Inflates to at most the size expected, so that a small file cannot unpack to a huge one. */
export function inflate(packed: Uint8Array, size: number): Uint8Array {
  try {
    return inflateSync(packed, { maxOutputLength: size + 65_536 });
  } catch (error) {
    const code = (error as { code?: string }).code;
    throw new DamagedPixels(
      code === 'ERR_BUFFER_TOO_LARGE'
        ? 'a strip unpacks to more than it declares'
        : 'its packed pixels cannot be unpacked',
      code === 'Z_BUF_ERROR',
    );
  }
}
