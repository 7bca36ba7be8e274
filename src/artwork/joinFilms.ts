import { foldInkName } from '../colour/normaliseInkName.ts';
import type { Artwork, Film, PlateSource, ReadFilm } from './film.ts';
import type { FilmInk, Ink, InkNameOrigin } from './ink.ts';
import { displayHexFor } from './joinColours.ts';
import { type JoinNote, noteSizes, noteStructure } from './joinDoubts.ts';
import { nameSeparations } from './joinNames.ts';
import { type JoinNaming, shownFilm } from './joinNaming.ts';

export type { JoinNaming } from './joinNaming.ts';

/**
 * Joins the films of a job: numbers them, names the inks, and says which ink of which film makes a plate. A composite
 * makes a plate for each ink used in it; a separation makes one. What is ambiguous is an open note, never a guess.
 */
export function joinFilms(films: readonly ReadFilm[], naming: JoinNaming): Artwork {
  const numbered: readonly Film[] = films.map((film, index) => ({ ...film, id: `f${index + 1}` }));
  const notes: JoinNote[] = [...noteStructure(numbered), ...noteSizes(numbered)];
  const names = nameSeparations(numbered, naming, notes);
  const inks = new InkList();
  const plateSources: PlateSource[] = [];
  for (const film of numbered) {
    const printedNames = new Set<string>();
    for (const filmInk of film.inks) {
      if (isBareWhite(film, filmInk, naming, notes)) continue;
      const given = film.form === 'separation' ? names.get(film.id) : undefined;
      const name = given?.name ?? filmInk.name;
      const nameFrom: InkNameOrigin = given?.nameFrom ?? (filmInk.kind === 'flat' ? 'colour' : 'file');
      const printed = isPrinted(film, filmInk);
      const index = inks.add(film, filmInk, name, nameFrom, given?.kind ?? filmInk.kind, printed);
      if (!printed) continue;
      if (printedNames.has(inks.keyAt(index))) notes.push(twiceInOneFilm(film, name));
      printedNames.add(inks.keyAt(index));
      const id = `p${plateSources.length + 1}`;
      plateSources.push({ id, inkId: `i${index + 1}`, filmId: film.id, inkKey: filmInk.key });
    }
  }
  notes.push(...sharedInks(numbered, inks.list, plateSources));
  if (plateSources.length === 0) notes.push(nothingToFilm);
  return { name: naming.jobName, films: numbered, inks: inks.list, plateSources, joinNotes: notes };
}

/** A job without a plate is never simply ready. */
const nothingToFilm: JoinNote = {
  code: 'nothing-to-film',
  message: 'Nothing on these films prints in an ink that makes a plate: there is nothing to film. Send the art again.',
  open: true,
};

class InkList {
  readonly list: Ink[] = [];
  readonly #indexOf = new Map<string, number>();

  keyAt(index: number): string {
    return foldInkName(this.list[index].name);
  }

  /** Index of the ink with this name; the one there already becomes printed if this one is. */
  add(
    film: Film,
    filmInk: FilmInk,
    name: string,
    nameFrom: InkNameOrigin,
    kind: Ink['kind'],
    printed: boolean,
  ): number {
    const key = foldInkName(name);
    const known = this.#indexOf.get(key);
    if (known !== undefined) {
      if (printed && !this.list[known].printed) this.list[known] = { ...this.list[known], printed };
      return known;
    }
    const index = this.list.length;
    const displayHex = film.form === 'separation' ? displayHexFor(name, index) : filmInk.displayHex;
    this.list.push({ id: `i${index + 1}`, name, nameFrom, kind, displayHex, printed });
    this.#indexOf.set(key, index);
    return index;
  }
}

/** Whether it makes a plate. */
function isPrinted(film: Film, ink: FilmInk): boolean {
  if (ink.kind === 'registration') return false;
  // A separation is somebody's film even when nothing is on it: the empty plate must show.
  return film.form === 'separation' || ink.used;
}

/** White that nobody named is an ink only when the job prints white; what was decided is noted. */
function isBareWhite(film: Film, ink: FilmInk, naming: JoinNaming, notes: JoinNote[]): boolean {
  if (ink.key !== 'white' || ink.kind !== 'flat' || naming.printWhite === 'yes') return false;
  const open = naming.printWhite === 'unknown';
  const message = open
    ? `“${film.file}” has white areas inside the art; they are taken for the bare garment. If white is printed, the ticket must list a white ink.`
    : `White areas of “${film.file}” are the bare garment, as the ticket lists no white ink.`;
  notes.push({ code: open ? 'white-undecided' : 'white-not-printed', message, open });
  return true;
}

function twiceInOneFilm(film: Film, name: string): JoinNote {
  const message = `“${film.file}” has two channels named “${name}”; both are plates of that ink.`;
  return { code: 'ink-twice-in-film', message, open: true };
}

/** One ink on several films is usual for the pages of a composite and doubtful for separations. */
function sharedInks(films: readonly Film[], inks: readonly Ink[], plates: readonly PlateSource[]): readonly JoinNote[] {
  const notes: JoinNote[] = [];
  for (const ink of inks) {
    const ids = [...new Set(plates.filter((plate) => plate.inkId === ink.id).map((plate) => plate.filmId))];
    if (ids.length < 2) continue;
    const of = ids.map((id) => films.find((film) => film.id === id)!);
    const list = of.map((film) => shownFilm(film)).join(', ');
    if (of.some((film) => film.form === 'separation')) {
      const message = `${of.length} films are named “${ink.name}”: ${list}. Each is a plate of its own; say in the ticket which ink each is.`;
      notes.push({ code: 'films-share-name', message, open: true });
    } else {
      const message = `Ink “${ink.name}” is on ${of.length} films: ${list}. Each is a plate of its own.`;
      notes.push({ code: 'ink-on-several-films', message, open: false });
    }
  }
  return notes;
}
