import { IntlMessageFormat } from 'intl-messageformat';
import type { NoteLanguage } from '../../../../src/fixNotes/words/wordsIn.ts';
import { noteLanguages } from '../../../../src/fixNotes/words/wordsIn.ts';
import { de } from './de.ts';
import { type CustomerCatalogue, type CustomerKey, en } from './en.ts';
import { es } from './es.ts';

/** The page speaks the languages of the note. */
export const customerCatalogues: Readonly<Record<NoteLanguage, CustomerCatalogue>> = { en, es, de };

/** What each language calls itself. */
export const languageNames: Readonly<Record<NoteLanguage, string>> = { en: 'English', es: 'Español', de: 'Deutsch' };

export interface CustomerWords {
  readonly language: NoteLanguage;
  say(key: CustomerKey, values?: Readonly<Record<string, string | number>>): string;
  /** A day with its time, by the clock of the shop. */
  moment(atMs: number): string;
}

export function customerWords(language: NoteLanguage): CustomerWords {
  const moments = new Intl.DateTimeFormat(language, { dateStyle: 'long', timeStyle: 'short' });
  return {
    language,
    say: (key, values = {}) =>
      String(new IntlMessageFormat(customerCatalogues[language][key], language).format(values)),
    moment: (atMs) => moments.format(atMs),
  };
}

/** The first of these that the page speaks; English when there is none. */
export function languageWanted(wanted: readonly (string | null | undefined)[]): NoteLanguage {
  for (const one of wanted) {
    const found = noteLanguages.find((language) => one?.trim().toLowerCase().startsWith(language));
    if (found !== undefined) return found;
  }
  return 'en';
}
