import { isJpeg, isPdf, isPng, isPsd, isSvg, isTiff, isWebp } from './firstBytes.ts';
import { type ConvertPostscript, postscriptReader } from './postscript/postscriptReader.ts';
import type { Reader } from './reader.ts';

/**
 * Every reader, in the order they are asked: those that know a file by its very first bytes come before those that
 * search for a mark. Without `convert` PostScript is recognised but cannot be read. A reader is loaded when a file of
 * its kind comes, so that no job waits for what it does not need.
 */
export function allReaders(convert: ConvertPostscript | null = null): readonly Reader[] {
  const pdf = onDemand(['pdf'], isPdf, async () => (await import('./pdf/pdfReader.ts')).pdfReader);
  return [
    onDemand(['tiff'], isTiff, async () => (await import('./tiff/tiffReader.ts')).tiffReader),
    onDemand(
      ['png', 'jpeg', 'webp'],
      (head) => isPng(head) || isJpeg(head) || isWebp(head),
      async () => (await import('./bitmap/bitmapReader.ts')).bitmapReader,
    ),
    onDemand(['psd'], isPsd, async () => (await import('./psd/psdReader.ts')).psdReader),
    postscriptReader(convert, pdf),
    pdf,
    onDemand(['svg'], isSvg, async () => (await import('./svg/svgReader.ts')).svgReader),
  ];
}

function onDemand(formats: Reader['formats'], recognises: Reader['recognises'], load: () => Promise<Reader>): Reader {
  return { formats, recognises, read: async (source, options) => (await load()).read(source, options) };
}
