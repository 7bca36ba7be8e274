import { useEffect, useState } from 'preact/hooks';
import type { JudgedFacts } from '../../../shared/judged.ts';
import { change } from '../server/ask.ts';

/** A pause in typing after which a ticket is judged. */
const pauseMs = 250;

export interface Judged {
  /** Of the last ticket that could be judged; null before any was. */
  readonly facts: JudgedFacts | null;
  readonly error: Error | null;
  readonly isJudging: boolean;
}

/** What a revision comes to by a ticket that is being changed; null asks nothing. */
export function useJudged(path: string | null, ticket: unknown): Judged {
  const [judged, setJudged] = useState<Judged>({ facts: null, error: null, isJudging: false });
  const text = JSON.stringify(ticket);
  useEffect(() => {
    if (path === null || text === undefined) return;
    let isLatest = true;
    const timer = setTimeout(() => {
      setJudged((before) => ({ ...before, isJudging: true }));
      change<JudgedFacts>('POST', path, { ticket: JSON.parse(text) }).then(
        (facts) => {
          if (isLatest) setJudged({ facts, error: null, isJudging: false });
        },
        (error: Error) => {
          if (isLatest) setJudged((before) => ({ ...before, error, isJudging: false }));
        },
      );
    }, pauseMs);
    return () => {
      isLatest = false;
      clearTimeout(timer);
    };
  }, [path, text]);
  return judged;
}
