import { bitmapReader } from './bitmap/bitmapReader.ts';
import { pdfReader } from './pdf/pdfReader.ts';
import { type ConvertPostscript, postscriptReader } from './postscript/postscriptReader.ts';
import { psdReader } from './psd/psdReader.ts';
import type { Reader } from './reader.ts';
import { svgReader } from './svg/svgReader.ts';
import { tiffReader } from './tiff/tiffReader.ts';

/**
 * Every reader, in the order they are asked: those that know a file by its very first bytes come before those that
 * search for a mark. Without `convert` PostScript is recognised but cannot be read.
 */
export function allReaders(convert: ConvertPostscript | null = null): readonly Reader[] {
  return [tiffReader, bitmapReader, psdReader, postscriptReader(convert, pdfReader), pdfReader, svgReader];
}
