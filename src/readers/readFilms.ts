import type { ByteSource } from '../artwork/byteSource.ts';
import type { FilmFormat, ReadFilm } from '../artwork/film.ts';
import type { ReadNote } from '../artwork/readNote.ts';
import { UnreadableFilmError } from '../artwork/unreadableFilmError.ts';
import type { Reader, ReadOptions } from './reader.ts';

const headBytes = 4096;
/** The largest file that is opened: no film of the trade comes near it. */
const maxFileBytes = 2_000_000_000;

const extensionsOf: Readonly<Record<FilmFormat, readonly string[]>> = {
  pdf: ['pdf', 'ai'],
  svg: ['svg', 'svgz'],
  tiff: ['tif', 'tiff'],
  png: ['png'],
  jpeg: ['jpg', 'jpeg', 'jpe', 'jfif'],
  webp: ['webp'],
  psd: ['psd', 'psb'],
  eps: ['eps', 'epsf', 'ps', 'prn'],
};

/**
 * Reads a file with the reader that recognises its first bytes; the name decides nothing. A name that says another
 * format is noted. Throws `UnreadableFilmError`: `empty-file`, `too-large`, `unknown-format`, or what the reader found wrong.
 */
export async function readFilms(
  source: ByteSource,
  options: ReadOptions,
  readers: readonly Reader[],
): Promise<readonly ReadFilm[]> {
  if (source.sizeBytes === 0) {
    throw new UnreadableFilmError('empty-file', source.name, 'The file is empty.', 'Copy or send the file again.');
  }
  if (source.sizeBytes > maxFileBytes) {
    throw new UnreadableFilmError(
      'too-large',
      source.name,
      `The file has ${(source.sizeBytes / 1e9).toFixed(1)} GB; more than ${maxFileBytes / 1e9} GB is not opened.`,
      'Save the film packed, or each ink as a film of its own.',
    );
  }
  const head = await source.read(0, headBytes);
  const reader = readers.find((candidate) => candidate.recognises(head));
  if (reader === undefined) {
    throw new UnreadableFilmError(
      'unknown-format',
      source.name,
      'The file is not a film this program can read.',
      `Save it as one of these: ${readableFormats(readers)}.`,
    );
  }
  const films = await reader.read(source, options);
  if (films.length === 0) {
    throw new UnreadableFilmError(
      'no-page',
      source.name,
      'The file has no page.',
      'Export the film again from the program that made it.',
    );
  }
  return films.map((film) => withNameNote(film, source.name));
}

function readableFormats(readers: readonly Reader[]): string {
  return readers.flatMap((reader) => reader.formats.map((format) => format.toUpperCase())).join(', ');
}

function withNameNote(film: ReadFilm, name: string): ReadFilm {
  const extension = /\.([^.]+)$/.exec(name)?.[1].toLowerCase();
  if (extension === undefined || extensionsOf[film.format].includes(extension)) return film;
  const claims = Object.values(extensionsOf).some((extensions) => extensions.includes(extension));
  if (!claims) return film;
  const note: ReadNote = {
    code: 'wrong-extension',
    message: `The name ends in “.${extension}” but the file is ${film.format.toUpperCase()}; it was read as what it is.`,
    affects: 'nothing',
  };
  return { ...film, notes: [note, ...film.notes] };
}
