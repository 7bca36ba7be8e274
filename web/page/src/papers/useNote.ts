import { useEffect, useRef, useState } from 'preact/hooks';
import type { NoteAsk, NoteFacts } from '../../../shared/notes.ts';
import { useAnswer } from '../server/useAnswer.ts';

const settleMs = 350;

export interface AskedNote {
  /** The last answer; it stays while the next is on its way. */
  readonly facts: NoteFacts | null;
  readonly error: Error | null;
  /** What the answer was asked with, for links: "language=de&units=mm". */
  readonly query: string;
  again(): void;
}

/** The note of a revision as it is wished for; asked for when typing has come to rest. */
export function useNote(base: string | null, wish: NoteAsk, pageLanguage: string): AskedNote {
  const wanted = queryOf(wish);
  const [query, setQuery] = useState(wanted);
  useEffect(() => {
    const timer = setTimeout(() => setQuery(wanted), settleMs);
    return () => clearTimeout(timer);
  }, [wanted]);
  const asked = useAnswer<NoteFacts>(base === null ? null : `${base}/note?${query}&page=${pageLanguage}`);
  const last = useRef<NoteFacts | null>(null);
  if (asked.answer !== null) last.current = asked.answer;
  return { facts: last.current, error: asked.error, query, again: asked.again };
}

function queryOf(wish: NoteAsk): string {
  return new URLSearchParams(Object.entries(wish).filter(([, value]) => value !== '')).toString();
}
