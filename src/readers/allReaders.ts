import { bitmapReader } from './bitmap/bitmapReader.ts';
import type { Reader } from './reader.ts';
import { tiffReader } from './tiff/tiffReader.ts';

/** Every reader, in the order they are asked. */
export const allReaders: readonly Reader[] = [tiffReader, bitmapReader];
