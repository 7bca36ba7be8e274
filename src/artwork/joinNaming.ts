import type { ReadFilm } from './film.ts';

/** What the job's ticket says that bears on names. `file` may carry `#2` for the second page. */
export interface JoinNaming {
  readonly jobName: string;
  readonly screens: readonly { readonly inkName: string; readonly file?: string }[];
  /** Whether white areas of a picture in colours are printed. */
  readonly printWhite: 'yes' | 'no' | 'unknown';
}

/** File and, where it has several, page. */
export function shownFilm(film: ReadFilm): string {
  return film.pageCount > 1 ? `“${film.file}” page ${film.page}` : `“${film.file}”`;
}
