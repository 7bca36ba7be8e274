import type { ByteSource } from '../../artwork/byteSource.ts';
import { readAll } from '../../artwork/byteSource.ts';
import type { ReadFilm } from '../../artwork/film.ts';
import type { ReadNote } from '../../artwork/readNote.ts';
import { UnreadableFilmError } from '../../artwork/unreadableFilmError.ts';
import { sharedBytes } from '../bitmap/sharedBytes.ts';
import { damaged, tooLarge, truncated } from '../bitmap/unreadable.ts';
import { isTiff } from '../firstBytes.ts';
import type { Reader, ReadOptions } from '../reader.ts';
import { BrokenDirectory, type Directory, readDirectories } from './directories.ts';
import { filmOfImage } from './filmOfImage.ts';
import { layoutOf, TooManyPixels, TruncatedStrips, UnusableImage } from './layoutOf.ts';
import { tiffTags } from './tags.ts';

/** Reads TIFF files, classic and 64-bit, each page a film. */
export const tiffReader: Reader = { formats: ['tiff'], recognises: isTiff, read: readTiff };

async function readTiff(source: ByteSource, options: ReadOptions): Promise<readonly ReadFilm[]> {
  const bytes = sharedBytes(await readAll(source));
  try {
    const directories = readDirectories(bytes);
    const pages = directories.filter((directory) => !isThumbnail(directory));
    const chosen = pages.length > 0 ? pages : directories;
    const skipped = directories.length - chosen.length;
    const films: ReadFilm[] = [];
    for (let i = 0; i < chosen.length; i++) {
      const image = layoutOf(chosen[i], bytes.length);
      const place = {
        file: source.name,
        page: i + 1,
        pageCount: chosen.length,
        pageIndex: directories.indexOf(chosen[i]),
      };
      films.push(await filmOfImage(bytes, image, place, i === 0 ? skippedNotes(skipped) : [], options));
    }
    return films;
  } catch (error) {
    if (error instanceof TooManyPixels) throw tooLarge(source.name, error.message, error);
    if (error instanceof UnusableImage) {
      const problem = `The file cannot be used: ${error.message}.`;
      const remedy = 'Save it as TIFF in grey, RGB or CMYK, packed with LZW, Deflate or Group 4.';
      throw new UnreadableFilmError('unknown-format', source.name, problem, remedy, error);
    }
    if (error instanceof TruncatedStrips) throw truncated(source.name, error.message, error);
    if (error instanceof BrokenDirectory) {
      throw /past the end|ends within/.test(error.message)
        ? truncated(source.name, error.message, error)
        : damaged(source.name, error.message, error);
    }
    throw error;
  }
}

/** Bit 0 of NewSubfileType: a smaller version of another page. */
function isThumbnail(directory: Directory): boolean {
  return ((directory.numbers(tiffTags.newSubfileType)[0] ?? 0) & 1) === 1;
}

function skippedNotes(skipped: number): readonly ReadNote[] {
  if (skipped === 0) return [];
  const message = `The file also holds ${skipped} reduced picture${skipped === 1 ? '' : 's'}, which ${skipped === 1 ? 'was' : 'were'} left out.`;
  return [{ code: 'reduced-picture', message, affects: 'nothing' }];
}
