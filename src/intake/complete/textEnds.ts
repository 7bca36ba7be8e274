import type { ByteSource } from '../../artwork/byteSource.ts';
import { pdfHeaderOffset } from '../../readers/firstBytes.ts';
import type { Completeness } from './completeness.ts';
import { latin1, readTail, readWhole } from './completeness.ts';

/**
 * The end marker stands in the last bytes and `startxref` names a place before it (ISO 32000-2, 7.5.5). A file written
 * for slow lines has an end marker near its start too; it says its length in its first object (annex F).
 */
export async function pdfEnd(source: ByteSource): Promise<Completeness> {
  const head = await source.read(0, 2048);
  const length = /\/Linearized\b[^>]*?\/L\s+(\d+)/s.exec(latin1(head))?.[1];
  if (length !== undefined && Number(length) + Math.max(0, pdfHeaderOffset(head)) > source.sizeBytes) return 'short';
  const tail = latin1(await readTail(source, 2048));
  const end = tail.lastIndexOf('%%EOF');
  if (end < 0) return 'short';
  const place = /startxref\s+(\d+)\s*$/.exec(tail.slice(0, end))?.[1];
  return place === undefined || Number(place) < source.sizeBytes ? 'complete' : 'short';
}

/** The outermost element is closed. A packed one says so when it is unpacked, by its reader. */
export async function svgEnd(source: ByteSource): Promise<Completeness> {
  const head = await source.read(0, 2);
  if (head[0] === 0x1f && head[1] === 0x8b) return 'unknown';
  // Characters of two bytes lose their empty halves.
  const tail = latin1(await readTail(source, 4096)).replaceAll('\0', '');
  if (/<\/(?:[\w.-]+:)?svg\s*>(?:\s|<!--.*?-->)*$/s.test(tail)) return 'complete';
  return /<(?:[\w.-]+:)?svg\b[^<]*\/>\s*$/.test(tail) ? 'complete' : 'short';
}

/** The end comment, or as long as the head of its binary form says; plain PostScript need not have either. */
export async function postscriptEnd(source: ByteSource): Promise<Completeness> {
  const head = await readWhole(source, 0, 30);
  if (head !== null && head.getUint32(0) === 0xc5d0d3c6) {
    const ends = [4, 12, 20].map((at) => head.getUint32(at, true) + head.getUint32(at + 4, true));
    return Math.max(...ends) <= source.sizeBytes ? 'complete' : 'short';
  }
  return latin1(await readTail(source, 4096)).includes('%%EOF') ? 'complete' : 'unknown';
}

/** The record at the end is there, and the list of files it tells of lies before it. */
export async function zipEnd(source: ByteSource): Promise<Completeness> {
  const tail = await readTail(source, 65_557);
  const view = new DataView(tail.buffer, tail.byteOffset, tail.byteLength);
  for (let at = tail.length - 22; at >= 0; at--) {
    if (view.getUint32(at) !== 0x504b0506) continue;
    const size = view.getUint32(at + 12, true);
    const offset = view.getUint32(at + 16, true);
    // All ones: the numbers stand in the larger record before this one.
    return offset === 0xffffffff || offset + size <= source.sizeBytes ? 'complete' : 'short';
  }
  return 'short';
}
