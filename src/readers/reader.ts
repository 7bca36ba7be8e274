import type { ByteSource } from '../artwork/byteSource.ts';
import type { FilmFormat, ReadFilm } from '../artwork/film.ts';
import type { readBits } from '../raster/bitmap/readBits.ts';

export interface ReadOptions {
  /** Resolution to use where a bitmap does not say, pixels per inch. */
  readonly dpi?: number;
  readonly password?: string;
  /** Unpacks the pixels of a one-bit film, if need be in another thread. Default: where it is called. */
  readonly unpackBits?: typeof readBits;
}

/** Reads one format. Throws `UnreadableFilmError` when the file cannot be opened; everything less is a `ReadNote`. */
export interface Reader {
  readonly formats: readonly FilmFormat[];
  /** Whether these first bytes (up to 4096) are of this format; the name is never trusted. */
  recognises(head: Uint8Array): boolean;
  read(source: ByteSource, options: ReadOptions): Promise<readonly ReadFilm[]>;
}
