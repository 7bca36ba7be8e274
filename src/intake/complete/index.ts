import type { ByteSource } from '../../artwork/byteSource.ts';
import { isJpeg, isPdf, isPng, isPsd, isSvg, isTiff, isWebp } from '../../readers/firstBytes.ts';
import { jpegEnd, pngEnd, webpEnd } from './bitmapEnds.ts';
import type { Completeness, CompletenessOf } from './completeness.ts';
import { psdEnd } from './psdEnd.ts';
import { pdfEnd, postscriptEnd, svgEnd, zipEnd } from './textEnds.ts';
import { tiffEnd } from './tiffEnd.ts';

const formats: readonly (readonly [(head: Uint8Array) => boolean, CompletenessOf])[] = [
  [isTiff, tiffEnd],
  [isPng, pngEnd],
  [isJpeg, jpegEnd],
  [isWebp, webpEnd],
  [isPsd, psdEnd],
  [isPostscript, postscriptEnd],
  [isZip, zipEnd],
  [isPdf, pdfEnd],
  [isSvg, svgEnd],
];

/** Whether a file is all there, as its format says, which its first bytes tell. An empty file is short. */
export async function completenessOf(source: ByteSource): Promise<Completeness> {
  if (source.sizeBytes === 0) return 'short';
  const head = await source.read(0, 4096);
  // Room that was set aside for a copy reads as nought until the copy gets there.
  if (head.every((byte) => byte === 0)) return 'short';
  const format = formats.find(([is]) => is(head));
  return format === undefined ? 'unknown' : format[1](source);
}

export function isZip(head: Uint8Array): boolean {
  return head[0] === 0x50 && head[1] === 0x4b && (head[2] === 3 || head[2] === 5) && head[3] === head[2] + 1;
}

function isPostscript(head: Uint8Array): boolean {
  return (head[0] === 0x25 && head[1] === 0x21) || (head[0] === 0xc5 && head[1] === 0xd0 && head[2] === 0xd3);
}
