import type { ArtObject } from '../artwork/artObject.ts';
import type { Film } from '../artwork/film.ts';
import type { ReadNote } from '../artwork/readNote.ts';
import type { Reading, Unmeasured } from '../findings/finding.ts';
import type { PlateLimits } from '../ticket/ticket.ts';
import type { Ask, PlateFacts } from './ask.ts';
import type { Subject } from './check.ts';

/** The plate a check of scope `plate` is asked about. */
export function plateIn(subject: Subject): PlateFacts {
  if (subject.scope !== 'plate') throw new Error(`Asked about a ${subject.scope}, but the check is about plates.`);
  return subject.plate;
}

/** The two plates a check of scope `pair` is asked about. */
export function pairIn(subject: Subject): readonly [PlateFacts, PlateFacts] {
  if (subject.scope !== 'pair') throw new Error(`Asked about a ${subject.scope}, but the check is about pairs.`);
  return subject.plates;
}

/** The limits of a plate's own frame. */
export function limitsOf(ask: Ask, plate: PlateFacts): PlateLimits {
  return ask.ticket.screenFor(plate.ink.name).limits;
}

/** A reading of a plate; the box is null until it is given. */
export function plateReading(
  plate: PlateFacts,
  reading: Pick<Reading, 'value' | 'unit' | 'plusMinus'> & Partial<Reading>,
): Reading {
  return { plateIds: [plate.id], inkNames: [plate.ink.name], filmId: plate.film.id, boxMm: null, ...reading };
}

/** Nothing at all is on the plate. A plate of light tints only has no black, and so no box, but is not blank. */
export function isBlank({ opacity }: PlateFacts): boolean {
  return opacity.inkedBoxMm === null && opacity.coveragePercent === 0 && opacity.semiOpaquePercent === 0;
}

/** The notes of its film that keep a plate from being certain; null when something else does as well. */
export function notesBehind({ film, inkKey, doubts }: PlateFacts): readonly ReadNote[] | null {
  const notes = film.notes.filter(
    ({ affects, inkKeys = [] }) => affects === 'plate' && (inkKeys.length === 0 || inkKeys.includes(inkKey)),
  );
  return doubts.every((doubt) => notes.some(({ message }) => message === doubt)) ? notes : null;
}

export function plateUnmeasured(plate: PlateFacts, reason: string): Unmeasured {
  return { reason, plateIds: [plate.id], inkNames: [plate.ink.name], filmId: plate.film.id, boxMm: null };
}

/** A reading of a whole film or of one object on it; no plate is drawn on for it, so none can cast doubt on it. */
export function filmReading(
  film: Film,
  reading: Pick<Reading, 'value' | 'unit' | 'plusMinus'> & Partial<Reading>,
): Reading {
  return { plateIds: [], inkNames: [], filmId: film.id, boxMm: null, ...reading };
}

/** A reading of the job as such: it has no place. */
export function jobReading(reading: Pick<Reading, 'value' | 'unit' | 'plusMinus'> & Partial<Reading>): Reading {
  return { plateIds: [], inkNames: [], filmId: null, boxMm: null, ...reading };
}

/** Names of the inks an object of a film is painted with. */
export function inkNamesOf(plates: readonly PlateFacts[], film: Film, { inks }: ArtObject): string[] {
  return plates
    .filter((plate) => plate.film.id === film.id && inks.some(({ key }) => key === plate.inkKey))
    .map(({ ink }) => ink.name);
}

/** Name of a film for people: the file, with the page when it has several. */
export function filmName(film: Film): string {
  return film.pageCount > 1 ? `${film.file}, page ${film.page}` : film.file;
}

/** What films say against taking something of theirs for certain, or undefined. */
export function doubtOf(films: readonly Film[], affects: 'size' | 'inks'): string | undefined {
  const messages = films.flatMap(({ notes }) =>
    notes.filter((note) => note.affects === affects).map(({ message }) => message),
  );
  return messages.length === 0 ? undefined : [...new Set(messages)].join(' ');
}

/** Notes about a colour that was counted as an ink and may be none. */
const perhapsNoInk: ReadonlySet<string> = new Set(['coloured-ground', 'unnamed-channel']);

/**
 * How certain a count of the inks is: the error bar is the number of colours that may be no inks; whatever else the
 * films leave open about their inks can only hide more of them.
 */
export function inkCountDoubtOf(films: readonly Film[]): Pick<Reading, 'plusMinus' | 'mayBeWorse'> {
  const perhapsNone = films.flatMap(({ notes }) => notes.filter(({ code }) => perhapsNoInk.has(code)));
  return { plusMinus: perhapsNone.length, mayBeWorse: doubtOf(films, 'inks') };
}

export function sizeDoubtOf(film: Film): string | undefined {
  if (film.scaleKnown) return undefined;
  return doubtOf([film], 'size') ?? `${filmName(film)} does not say how large it is.`;
}
