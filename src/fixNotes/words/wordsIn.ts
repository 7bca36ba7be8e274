import { IntlMessageFormat } from 'intl-messageformat';
import { colourWordOf } from '../../colour/colourWords.ts';
import type { Catalogue, ChangeKey, FrameKey, ListKey, PrinterWords, ProofKey } from './catalogue.ts';
import { colourNames } from './colourNames.ts';
import { de } from './de.ts';
import { dePrinter } from './dePrinter.ts';
import { en } from './en.ts';
import { es } from './es.ts';
import { esPrinter } from './esPrinter.ts';

/** Every language notes are written in: a file of words, and its line here. */
export const catalogues = { en, es, de } as const satisfies Readonly<Record<string, Catalogue>>;
export type NoteLanguage = keyof typeof catalogues;
export const noteLanguages = Object.keys(catalogues) as NoteLanguage[];

/** Printers' advice; in English it is that of the report, which knows meshes and rulings. */
export const printerWords: Readonly<Record<NoteLanguage, PrinterWords | null>> = {
  en: null,
  es: esPrinter,
  de: dePrinter,
};

export type Values = Readonly<Record<string, string | number | boolean>>;

/** The words of a language, filled in. */
export interface NoteWords {
  readonly language: NoteLanguage;
  readonly catalogue: Catalogue;
  frame(key: FrameKey, values?: Values): string;
  change(key: ChangeKey, values?: Values): string;
  /** An ink as the customer knows it: one that nobody named goes by its colour, `coral (#f2694e)`. */
  ink(name: string): string;
  /** `Coral, Lagoon and Night`. */
  list(names: readonly string[]): string;
  proof(key: ProofKey, values?: Values): string;
  workList(key: ListKey, values?: Values): string;
  /** Any message of the catalogue, or of the shop's phrases. Throws where it is no message. */
  fill(message: string, values: Values): string;
  number(value: number, decimals: number): string;
  /** A day, written out; `iso` as 2030-06-24. */
  day(iso: string): string;
}

const mostNames = 4;

export function wordsIn(language: NoteLanguage): NoteWords {
  const catalogue: Catalogue = catalogues[language];
  const fill = (message: string, values: Values) =>
    String(new IntlMessageFormat(message, language, undefined, { ignoreTag: true }).format(values));
  return {
    language,
    catalogue,
    fill,
    frame: (key, values = {}) => fill(catalogue.frame[key], values),
    change: (key, values = {}) => fill(catalogue.changes[key], values),
    proof: (key, values = {}) => fill(catalogue.proof[key], values),
    workList: (key, values = {}) => fill(catalogue.list[key], values),
    ink: (name) => {
      if (!/^#[0-9a-f]{6}$/i.test(name)) return name;
      const colour = colourWordOf(name);
      return `${colourNames[language]?.[colour] ?? colour} (${name})`;
    },
    list(names) {
      const left = names.length > mostNames ? names.length - mostNames + 1 : 0;
      const shown =
        left === 0 ? names : [...names.slice(0, mostNames - 1), fill(catalogue.frame.others, { count: left })];
      if (shown.length < 2) return shown.join('');
      return fill(catalogue.frame.list, { first: shown.slice(0, -1).join(', '), last: shown.at(-1)! });
    },
    number: (value, decimals) =>
      value.toLocaleString(language, { minimumFractionDigits: decimals, maximumFractionDigits: decimals }),
    day: (iso) =>
      new Intl.DateTimeFormat(language, { dateStyle: 'long', timeZone: 'UTC' }).format(new Date(`${iso}T00:00:00Z`)),
  };
}
