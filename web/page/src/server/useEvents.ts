import { useEffect, useRef } from 'preact/hooks';
import type { JobEvent } from '../../../shared/jobs.ts';

type Hears = (event: JobEvent | { readonly what: 'connectedAgain' }) => void;

const hearers = new Set<Hears>();
let line: EventSource | null = null;

/** One line to the server for the whole page. `connectedAgain`: what happened meanwhile was missed. */
export function useEvents(hears: Hears): void {
  const latest = useRef(hears);
  latest.current = hears;
  useEffect(() => {
    const hearer: Hears = (event) => latest.current(event);
    hearers.add(hearer);
    line ??= openLine();
    return () => {
      hearers.delete(hearer);
      if (hearers.size > 0) return;
      line?.close();
      line = null;
    };
  }, []);
}

function openLine(): EventSource {
  const source = new EventSource('/api/events');
  const tell: Hears = (event) => {
    for (const hearer of hearers) hearer(event);
  };
  let wasOpen = false;
  source.onopen = () => {
    if (wasOpen) tell({ what: 'connectedAgain' });
    wasOpen = true;
  };
  source.onmessage = ({ data }: MessageEvent<string>) => tell(JSON.parse(data) as JobEvent);
  return source;
}
