import type { NoteLanguage, NoteWords, Values } from './words/wordsIn.ts';
import { noteLanguages, wordsIn } from './words/wordsIn.ts';

/** One text for all languages, or one a language. */
export type Phrase = string | { readonly [Language in NoteLanguage]?: string };

/**
 * What the shop says in its own words, in ICU message format; what it leaves out is said in ours. Values: {customer},
 * {job}, {shop}, {count} (questions), {days} (to answer), {date} (to answer by).
 */
export interface ShopPhrases {
  readonly greeting?: Phrase;
  /** In place of the sentence that opens the note. */
  readonly opening?: Phrase;
  /** What our changes cost. */
  readonly price?: Phrase;
  /** How long it takes from the answer on. */
  readonly turnAround?: Phrase;
  readonly thanks?: Phrase;
  /** Its lines stand below one another. */
  readonly signature?: Phrase;
}

/** Stands in for every value while phrases are tried. */
const example: Values = { customer: 'x', job: 'x', shop: 'x', count: 2, days: 2, date: 'x' };

/** The phrase in a language, filled in; null where the shop has none for it. */
export function phraseIn(words: NoteWords, phrase: Phrase | undefined, values: Values): string | null {
  const text = typeof phrase === 'string' ? phrase : phrase?.[words.language];
  return text === undefined ? null : words.fill(text, values).trim();
}

/** What is wrong with the shop's phrases: each a path and what to do. None are filled in with what was not given. */
export function phraseProblems(phrases: ShopPhrases): string[] {
  const problems: string[] = [];
  for (const [name, phrase] of Object.entries(phrases) as [string, Phrase][])
    for (const language of noteLanguages) {
      const text = typeof phrase === 'string' ? phrase : phrase[language];
      if (text === undefined) continue;
      try {
        wordsIn(language).fill(text, example);
      } catch (error) {
        const { message } = error as Error;
        problems.push(`note.${name}: ${message.split('\n')[0]}. Values are ${Object.keys(example).join(', ')}.`);
        break;
      }
    }
  return problems;
}
