import type { ByteSource } from '../../artwork/byteSource.ts';
import { isJpeg, isPdf, isPng, isPsd, isSvg, isTiff, isWebp } from '../../readers/firstBytes.ts';
import { startsAsPostscript } from '../../readers/postscript/binaryHeader.ts';
import { jpegEnd, pngEnd, webpEnd } from './bitmapEnds.ts';
import type { Completeness, CompletenessOf } from './completeness.ts';
import { readTail } from './completeness.ts';
import { psdEnd } from './psdEnd.ts';
import { pdfEnd, postscriptEnd, svgEnd, zipEnd } from './textEnds.ts';
import { tiffEnd } from './tiffEnd.ts';

const formats: readonly (readonly [(head: Uint8Array) => boolean, CompletenessOf])[] = [
  [isTiff, tiffEnd],
  [isPng, pngEnd],
  [isJpeg, jpegEnd],
  [isWebp, webpEnd],
  [isPsd, psdEnd],
  [startsAsPostscript, postscriptEnd],
  [isZip, zipEnd],
  [isPdf, pdfEnd],
  [isSvg, svgEnd],
];

/** Whether a file is all there, as its format says, which its first bytes tell. An empty file is short. */
export async function completenessOf(source: ByteSource): Promise<Completeness> {
  if (source.sizeBytes === 0) return 'short';
  const head = await source.read(0, 4096);
  // Room that was set aside for a copy reads as nought until the copy gets there.
  if (isNought(head)) return 'short';
  const format = formats.find(([is]) => is(head));
  if (format === undefined) return 'unknown';
  const completeness = await format[1](source);
  return completeness === 'complete' && isNought(await readTail(source, 4096)) ? 'unknown' : completeness;
}

function isNought(bytes: Uint8Array): boolean {
  return bytes.every((byte) => byte === 0);
}

export function isZip(head: Uint8Array): boolean {
  return head[0] === 0x50 && head[1] === 0x4b && (head[2] === 3 || head[2] === 5) && head[3] === head[2] + 1;
}
