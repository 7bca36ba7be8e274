import type { ByteSource } from '../../artwork/byteSource.ts';
import type { Completeness } from './completeness.ts';
import { latin1, readTail, readWhole } from './completeness.ts';

const maxChunks = 200_000;

/** The chunk IEND is there, where the lengths of the chunks before it lead (PNG, third edition, clause 5). */
export async function pngEnd(source: ByteSource): Promise<Completeness> {
  if (/\0\0\0\0IEND\xae\x42\x60\x82$/s.test(latin1(await readTail(source, 12)))) return 'complete';
  let at = 8;
  for (let chunk = 0; chunk < maxChunks; chunk++) {
    const head = await readWhole(source, at, 8);
    if (head === null) return 'short';
    if (head.getUint32(4) === 0) return 'short';
    at += 12 + head.getUint32(0);
    if (head.getUint32(4) === 0x49454e44) return at <= source.sizeBytes ? 'complete' : 'short';
  }
  return 'unknown';
}

/**
 * The end-of-image marker stands at the end (ITU-T T.81, annex B). A marker further in may be that of a small picture
 * in the head, so then the format does not tell.
 */
export async function jpegEnd(source: ByteSource): Promise<Completeness> {
  const tail = latin1(await readTail(source, 4096));
  if (/\xff\xd9[\0\s]*$/s.test(tail)) return 'complete';
  return tail.includes('\xff\xd9') ? 'unknown' : 'short';
}

/** As long as its RIFF head says. */
export async function webpEnd(source: ByteSource): Promise<Completeness> {
  const head = await readWhole(source, 4, 4);
  return head !== null && head.getUint32(0, true) + 8 <= source.sizeBytes ? 'complete' : 'short';
}
