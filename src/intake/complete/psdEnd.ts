import type { ByteSource } from '../../artwork/byteSource.ts';
import type { Completeness } from './completeness.ts';
import { readWhole } from './completeness.ts';

const headerBytes = 26;

/**
 * The three sections after the head, then the picture itself: plain rows by their sizes, packed rows by the counts
 * that stand before them. Other packings do not say how long they are.
 */
export async function psdEnd(source: ByteSource): Promise<Completeness> {
  const head = await readWhole(source, 0, headerBytes);
  if (head === null) return 'short';
  const large = head.getUint16(4) === 2;
  const rows = head.getUint16(12) * head.getUint32(14);
  const rowBytes = Math.ceil((head.getUint32(18) * head.getUint16(22)) / 8);
  let at = headerBytes;
  for (const section of ['colours', 'resources', 'layers']) {
    const wide = large && section === 'layers';
    const length = await readWhole(source, at, wide ? 8 : 4);
    if (length === null) return 'short';
    at += wide ? 8 + Number(length.getBigUint64(0)) : 4 + length.getUint32(0);
  }
  const packing = await readWhole(source, at, 2);
  if (packing === null) return 'short';
  at += 2;
  if (packing.getUint16(0) === 0) return at + rows * rowBytes <= source.sizeBytes ? 'complete' : 'short';
  if (packing.getUint16(0) !== 1) return 'unknown';
  const countSize = large ? 4 : 2;
  const counts = await readWhole(source, at, rows * countSize);
  if (counts === null) return 'short';
  at += rows * countSize;
  for (let row = 0; row < rows; row++) at += large ? counts.getUint32(4 * row) : counts.getUint16(2 * row);
  return at <= source.sizeBytes ? 'complete' : 'short';
}
