import { createHash } from 'node:crypto';
import { type ByteSource, readAll } from '../artwork/byteSource.ts';
import type { ReadFilm } from '../artwork/film.ts';
import type { Reader, ReadOptions } from '../readers/reader.ts';
import { readFilms } from '../readers/readFilms.ts';
import type { Crew } from './crew.ts';
import { unpackingBy } from './unpackBits.ts';

export interface SourceRead {
  readonly films: readonly ReadFilm[];
  readonly file: { readonly name: string; readonly sizeBytes: number; readonly sha256: string };
}

/**
 * Reads the files of a job, as many at once as the crew has hands, and tells of each in the order given. Of several that
 * cannot be opened the first is told of.
 *
 * @param done called before the first and after each file with how many are read
 * @throws UnreadableFilmError
 */
export async function readSources(
  sources: readonly ByteSource[],
  options: ReadOptions,
  readers: readonly Reader[],
  crew: Crew,
  done: (count: number) => void,
): Promise<SourceRead[]> {
  const read: SourceRead[] = [];
  const errors: unknown[] = [];
  const withCrew = { ...options, unpackBits: unpackingBy(crew) };
  let next = 0;
  let count = 0;
  done(0);
  const readOn = async (): Promise<void> => {
    while (next < sources.length && errors.length === 0) {
      const index = next++;
      try {
        read[index] = await readSource(sources[index], withCrew, readers);
        done(++count);
      } catch (error) {
        errors[index] = error;
      }
    }
  };
  await Promise.all(Array.from({ length: crew.hands }, readOn));
  // Files are taken in order, so those before one that failed have all been tried.
  for (const error of errors) if (error !== undefined) throw error;
  return read;
}

async function readSource(source: ByteSource, options: ReadOptions, readers: readonly Reader[]): Promise<SourceRead> {
  const films = await readFilms(source, options, readers);
  const sha256 = createHash('sha256')
    .update(await readAll(source))
    .digest('hex');
  return { films, file: { name: source.name, sizeBytes: source.sizeBytes, sha256 } };
}
