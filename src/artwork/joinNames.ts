import { foldInkName } from '../colour/normaliseInkName.ts';
import type { Film } from './film.ts';
import type { InkKind, InkNameOrigin } from './ink.ts';
import type { JoinNote } from './joinDoubts.ts';
import { differingParts } from './joinFileNames.ts';
import { type JoinNaming, shownFilm } from './joinNaming.ts';

export interface SeparationName {
  readonly name: string;
  readonly nameFrom: InkNameOrigin;
  readonly kind: InkKind;
}

/**
 * Names of separations by film id: the ticket's for this file, else the file's own, else the part of the file name
 * that tells the films apart, else a number. The order of the films says nothing.
 */
export function nameSeparations(
  films: readonly Film[],
  naming: JoinNaming,
  notes: JoinNote[],
): ReadonlyMap<string, SeparationName> {
  const set = films.filter((film) => film.form === 'separation');
  const parts = differingParts(
    set.map((film) => film.file),
    naming.jobName,
  );
  const names = new Map<string, SeparationName>();
  set.forEach((film, index) => {
    const found =
      fromTicket(film, set, naming, notes) ??
      fromFile(film, naming) ??
      fromFileName(film, parts[index], set, naming) ??
      numbered(films.indexOf(film) + 1);
    names.set(film.id, found);
    notes.push(namedNote(film, found));
  });
  return names;
}

function fromTicket(film: Film, set: readonly Film[], naming: JoinNaming, notes: JoinNote[]): SeparationName | null {
  const matches = naming.screens.filter((entry) => entry.file !== undefined && names(entry.file, film));
  if (matches.length === 0) return null;
  const shown = matches.map((entry) => `“${entry.inkName}”`).join(', ');
  if (matches.length > 1) {
    const message = `The ticket gives ${shownFilm(film)} to several inks: ${shown}.`;
    notes.push({ code: 'ticket-names-film-twice', message, open: true });
    return null;
  }
  const others = set.filter((other) => names(matches[0].file!, other));
  if (others.length > 1) {
    const message = `The ticket's file “${matches[0].file}” fits ${others.length} films; write “${film.file}#1” for a page.`;
    if (others[0] === film) notes.push({ code: 'ticket-file-fits-several', message, open: true });
    return null;
  }
  return { name: matches[0].inkName, nameFrom: 'ticket', kind: 'spot' };
}

/** Whether the ticket's file is this film: by full name or without its ending, with or without a page. */
function names(file: string, film: Film): boolean {
  const [, path, page] = /^(.*?)(?:#(\d+))?$/.exec(file)!;
  if (page !== undefined && Number(page) !== film.page) return false;
  const wanted = path.replace(/^.*[\\/]/, '').toLowerCase();
  const actual = film.file.toLowerCase();
  return wanted === actual || wanted === withoutEnding(actual);
}

function fromFile(film: Film, naming: JoinNaming): SeparationName | null {
  if (film.separationName === null) return null;
  const kind = film.inks[0]?.kind === 'process' ? 'process' : 'spot';
  return { name: spelledByTicket(film.separationName, naming), nameFrom: 'file', kind };
}

function fromFileName(
  film: Film,
  part: string | null,
  set: readonly Film[],
  naming: JoinNaming,
): SeparationName | null {
  if (part === null || set.some((other) => other !== film && other.file === film.file)) return null;
  return { name: spelledByTicket(part, naming), nameFrom: 'fileName', kind: 'spot' };
}

function numbered(number: number): SeparationName {
  return { name: `Film ${number}`, nameFrom: 'fileName', kind: 'flat' };
}

/** The ticket's own spelling when it lists this ink. */
function spelledByTicket(name: string, naming: JoinNaming): string {
  return naming.screens.find((entry) => foldInkName(entry.inkName) === foldInkName(name))?.inkName ?? name;
}

function namedNote(film: Film, { name, nameFrom, kind }: SeparationName): JoinNote {
  if (kind === 'flat') {
    const message = `Nothing says which ink ${shownFilm(film)} is; it is called “${name}”. Name it in the ticket.`;
    return { code: 'film-unnamed', message, open: true };
  }
  const why = { ticket: 'the ticket', file: 'the file itself', fileName: 'its file name', colour: 'its colour' }[
    nameFrom
  ];
  return { code: 'film-named', message: `${shownFilm(film)} is ink “${name}”, as ${why} says.`, open: false };
}

function withoutEnding(file: string): string {
  return file.replace(/\.[^.]+$/, '');
}
