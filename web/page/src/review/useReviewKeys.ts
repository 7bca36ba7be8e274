import { useEffect, useRef } from 'preact/hooks';
import { remembered } from '../settings.ts';

/** Single keys of the review; not while somebody writes, and not when they were switched off. */
export function useReviewKeys(keys: Readonly<Record<string, () => void>>): void {
  const latest = useRef(keys);
  latest.current = keys;
  useEffect(() => {
    const press = (event: KeyboardEvent) => {
      if (event.ctrlKey || event.metaKey || event.altKey || event.defaultPrevented || remembered('keys') === 'off')
        return;
      const target = event.target as HTMLElement;
      if (target.closest('input, textarea, select, dialog') !== null) return;
      const act = latest.current[event.key];
      if (act === undefined) return;
      event.preventDefault();
      act();
    };
    addEventListener('keydown', press);
    return () => removeEventListener('keydown', press);
  }, []);
}
