import { DamagedPixels } from '../../raster/bitmap/damagedPixels.ts';

export interface RiffChunk {
  readonly type: string;
  readonly offset: number;
  readonly length: number;
}

/** The chunks of a WebP file (RFC 9649, section 2). Throws `DamagedPixels` when the file is shorter than it says. */
export function riffChunks(bytes: Uint8Array): readonly RiffChunk[] {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (bytes.length < 20 || view.getUint32(4, true) + 8 > bytes.length) {
    throw new DamagedPixels('it is shorter than it says', true);
  }
  const chunks: RiffChunk[] = [];
  let at = 12;
  while (at + 8 <= bytes.length) {
    const length = view.getUint32(at + 4, true);
    chunks.push({ type: String.fromCharCode(...bytes.subarray(at, at + 4)), offset: at + 8, length });
    at += 8 + length + (length & 1);
  }
  return chunks;
}
