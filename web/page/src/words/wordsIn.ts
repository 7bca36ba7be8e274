import { IntlMessageFormat } from 'intl-messageformat';
import { de } from './de.ts';
import { en, type MessageKey } from './en.ts';
import { es } from './es.ts';

export const catalogues = { en, es, de } as const;
export type Language = keyof typeof catalogues;
export const languages: readonly Language[] = ['en', 'es', 'de'];
export const languageNames: Readonly<Record<Language, string>> = { en: 'English', es: 'Español', de: 'Deutsch' };

type Values = Readonly<Record<string, string | number>>;

export interface Words {
  readonly language: Language;
  say(key: MessageKey, values?: Values): string;
  number(value: number, decimals: number): string;
  /** A day and a time of day. */
  moment(atMs: number): string;
  /** "3 minutes ago". */
  age(atMs: number, nowMs: number): string;
}

export function wordsIn(language: Language): Words {
  const formats = new Map<string, IntlMessageFormat>();
  const moments = new Intl.DateTimeFormat(language, { dateStyle: 'medium', timeStyle: 'short' });
  const ages = new Intl.RelativeTimeFormat(language, { numeric: 'always', style: 'short' });
  return {
    language,
    say(key, values) {
      const message = catalogues[language][key];
      if (values === undefined) return message;
      const format = formats.get(key) ?? new IntlMessageFormat(message, language);
      formats.set(key, format);
      return String(format.format(values));
    },
    number: (value, decimals) =>
      value.toLocaleString(language, { minimumFractionDigits: decimals, maximumFractionDigits: decimals }),
    moment: (atMs) => moments.format(atMs),
    age(atMs, nowMs) {
      const minutes = Math.max(0, Math.round((nowMs - atMs) / 60_000));
      if (minutes < 60) return ages.format(-minutes, 'minute');
      if (minutes < 48 * 60) return ages.format(-Math.round(minutes / 60), 'hour');
      return ages.format(-Math.round(minutes / 1440), 'day');
    },
  };
}

export function usualLanguage(wanted: readonly string[]): Language {
  for (const one of wanted) {
    const found = languages.find((language) => one.toLowerCase().startsWith(language));
    if (found !== undefined) return found;
  }
  return 'en';
}
