import { useCallback, useEffect, useState } from 'preact/hooks';
import { ask } from './ask.ts';

export interface Asked<Answer> {
  readonly answer: Answer | null;
  readonly error: Error | null;
  again(): void;
}

/** What the server answers to a path; null asks nothing. The answer before stays until the new one is there. */
export function useAnswer<Answer>(path: string | null): Asked<Answer> {
  const [turn, setTurn] = useState(0);
  const [got, setGot] = useState<{ path: string | null; answer: Answer | null; error: Error | null }>({
    path: null,
    answer: null,
    error: null,
  });
  const again = useCallback(() => setTurn((before) => before + 1), []);
  useEffect(() => {
    if (path === null) return;
    const stopper = new AbortController();
    ask<Answer>(path, stopper.signal).then(
      (answer) => {
        if (!stopper.signal.aborted) setGot({ path, answer, error: null });
      },
      (error: Error) => {
        if (!stopper.signal.aborted) setGot((before) => ({ ...before, path, error }));
      },
    );
    return () => stopper.abort();
  }, [path, turn]);
  return { answer: got.path === path ? got.answer : null, error: got.path === path ? got.error : null, again };
}
