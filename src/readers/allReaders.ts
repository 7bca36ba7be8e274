import { bitmapReader } from './bitmap/bitmapReader.ts';
import { type ConvertPostscript, postscriptReader } from './postscript/postscriptReader.ts';
import { psdReader } from './psd/psdReader.ts';
import type { Reader } from './reader.ts';
import { tiffReader } from './tiff/tiffReader.ts';

/** Readers of page descriptions, PDF first: it is what PostScript is turned into. */
const pageReaders: readonly Reader[] = [];

/** Every reader, in the order they are asked. Without `convert` PostScript is recognised but cannot be read. */
export function allReaders(convert: ConvertPostscript | null = null): readonly Reader[] {
  const pdfReader = pageReaders.find((reader) => reader.formats.includes('pdf')) ?? null;
  return [...pageReaders, tiffReader, bitmapReader, psdReader, postscriptReader(convert, pdfReader)];
}
