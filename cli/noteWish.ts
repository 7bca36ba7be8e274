import type { NoteWish } from '../src/fixNotes/customerNote.ts';
import { type NoteLanguage, noteLanguages } from '../src/fixNotes/words/wordsIn.ts';
import type { NoteAsk } from '../web/shared/notes.ts';
import type { NoteSettings } from './shopNotes.ts';
import { UsageError } from './usageError.ts';

const dayMs = 86_400_000;

/** How a note is written: as it is asked for, else as the shop has set. */
export function noteWishOf(ask: NoteAsk, settings: NoteSettings): NoteWish {
  return {
    language: languageOf(ask.language ?? settings.language ?? 'en'),
    units: ask.units ?? settings.units ?? 'mm',
    customer: ask.customer ?? null,
    shop: settings.shop ?? null,
    answerBy: answerBy(ask.answerBy, settings.answerDays),
    phrases: settings,
    weFix: settings.weFix ?? [],
    own: { greeting: ask.greeting ?? null, extra: ask.extra ?? null },
  };
}

export function languageOf(wanted: string): NoteLanguage {
  const found = noteLanguages.find((language) => language === wanted.toLowerCase());
  if (found === undefined) throw new UsageError(`Notes are written in ${noteLanguages.join(', ')}, not in ${wanted}.`);
  return found;
}

/** The day that is named, or so many days from today. */
function answerBy(day: string | undefined, days: number | undefined): { day: string; days: number } | null {
  const today = Date.now();
  if (day !== undefined) {
    const at = /^\d{4}-\d\d-\d\d$/.test(day) ? Date.parse(`${day}T00:00:00Z`) : Number.NaN;
    if (Number.isNaN(at)) throw new UsageError(`--by takes a day such as 2030-06-24, not ${day}.`);
    return { day, days: Math.max(0, Math.ceil((at - today) / dayMs)) };
  }
  return days === undefined ? null : { day: new Date(today + days * dayMs).toISOString().slice(0, 10), days };
}
