import type { ArtObject } from './artObject.ts';
import type { FilmDrawing } from './drawing.ts';
import type { FilmInk, Ink } from './ink.ts';
import type { ReadNote } from './readNote.ts';

export type FilmFormat = 'pdf' | 'svg' | 'tiff' | 'png' | 'jpeg' | 'webp' | 'psd' | 'eps';

/** One page or image as delivered, resolved by its reader. */
export interface ReadFilm {
  readonly file: string;
  /** Page, directory or image number within the file, from 1. */
  readonly page: number;
  readonly pageCount: number;
  readonly format: FilmFormat;
  /**
   * `composite`: one plate per ink in it. `separation`: it is one ink's film already, a single grey or 1-bit image or
   * a page that says so; then `inks` holds that one channel and `separationName` the name the file gives it.
   */
  readonly form: 'composite' | 'separation';
  readonly separationName: string | null;
  readonly widthMm: number;
  readonly heightMm: number;
  /** False when the file does not say how large it is; `widthMm` then rests on an assumption named in a note. */
  readonly scaleKnown: boolean;
  readonly inks: readonly FilmInk[];
  readonly objects: readonly ArtObject[];
  readonly notes: readonly ReadNote[];
  readonly drawing: FilmDrawing;
  /** Set where the reader does not find out which objects lie wholly under others: silence is then no answer. */
  readonly coverNotSought?: true;
  /** How it came to the program: art of vectors, a bitmap film, a bitmap picture split into inks, or a photograph. */
  readonly nature: 'vector' | 'bitmap' | 'splitBitmap' | 'photograph';
}

export interface Film extends ReadFilm {
  readonly id: string;
}

/** Which ink of which film makes a plate. */
export interface PlateSource {
  readonly id: string;
  readonly inkId: string;
  readonly filmId: string;
  readonly inkKey: string;
}

/** All films of a job, joined. */
export interface Artwork {
  readonly name: string;
  readonly films: readonly Film[];
  readonly inks: readonly Ink[];
  readonly plateSources: readonly PlateSource[];
  /** What was decided when joining, and why; one sentence each. `open` ones are ambiguous and need a person. */
  readonly joinNotes: readonly { readonly code: string; readonly message: string; readonly open: boolean }[];
}
