import type { CustomerNote } from './customerNote.ts';
import { wordsIn } from './words/wordsIn.ts';

/** Where the customer sees what the note asks, and can answer. */
export interface NoteLink {
  readonly words: string;
  readonly url: string;
}

/** The note with a link to the customer's page, which is open until this day, 2030-06-24. */
export function withLink(note: CustomerNote, url: string, openUntil: string): CustomerNote {
  const words = wordsIn(note.language);
  return { ...note, link: { words: words.frame('link', { date: words.day(openUntil) }), url } };
}
