import { choicesDe, fieldsDe } from './fields/de.ts';
import { type ChoiceWords, choicesEn, type FieldKey, type FieldWords, fieldsEn } from './fields/en.ts';
import { choicesEs, fieldsEs } from './fields/es.ts';
import type { Language } from './wordsIn.ts';

export const fieldWords: Readonly<Record<Language, FieldWords>> = { en: fieldsEn, es: fieldsEs, de: fieldsDe };
const choices: Readonly<Record<Language, ChoiceWords>> = { en: choicesEn, es: choicesEs, de: choicesDe };

export interface NamedValue {
  readonly label: string;
  readonly about: string;
}

/**
 * What a value of a ticket or a shop file is called: the longest end of its path that has words, "meshes.name" before
 * "name". A value without words keeps its key.
 */
export function fieldAt(language: Language, path: string): NamedValue {
  const key = fieldKeyOf(path);
  if (key === null) return { label: path.split('.').at(-1) ?? path, about: '' };
  const [label, about] = fieldWords[language][key];
  return { label, about };
}

/** Null where there are none. Places of a fixed list count, from 1; of a list that grows they do not. */
export function fieldKeyOf(path: string): FieldKey | null {
  const parts = path
    .replace(/\[(\d+)\]$/, (_, index) => `.${Number(index) + 1}`)
    .replace(/\[\d+\]/g, '')
    .split('.');
  for (let from = 0; from < parts.length; from++) {
    const key = parts.slice(from).join('.');
    if (key in fieldsEn) return key as FieldKey;
  }
  return null;
}

export function choiceIn(language: Language, choice: string): string {
  return choice in choicesEn ? choices[language][choice as keyof ChoiceWords] : choice;
}
