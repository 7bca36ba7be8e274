import { useEffect, useState } from 'preact/hooks';

export type Route =
  | { readonly view: 'jobs' }
  | { readonly view: 'review'; readonly jobId: number; readonly revision: number | null }
  | { readonly view: 'papers'; readonly jobId: number; readonly revision: number }
  | { readonly view: 'ticket'; readonly jobId: number }
  | { readonly view: 'compare'; readonly jobId: number; readonly before: number; readonly after: number }
  | { readonly view: 'shop' }
  | { readonly view: 'nowhere' };

/** "/jobs/7", "/jobs/7/2" (revision 2), "/jobs/7/2/papers" (its note, proof and work list), "/jobs/7/ticket", "/jobs/7/compare/1/2", "/shop". */
export function routeOf(path: string): Route {
  if (path === '/' || path === '/jobs') return { view: 'jobs' };
  if (path === '/shop') return { view: 'shop' };
  const compared = /^\/jobs\/(\d+)\/compare\/(\d+)\/(\d+)$/.exec(path)?.slice(1).map(Number);
  if (compared !== undefined) return { view: 'compare', jobId: compared[0], before: compared[1], after: compared[2] };
  const papers = /^\/jobs\/(\d+)\/(\d+)\/papers$/.exec(path)?.slice(1).map(Number);
  if (papers !== undefined) return { view: 'papers', jobId: papers[0], revision: papers[1] };
  const match = /^\/jobs\/(\d+)(?:\/(\d+|ticket))?$/.exec(path);
  if (match === null) return { view: 'nowhere' };
  const jobId = Number(match[1]);
  if (match[2] === 'ticket') return { view: 'ticket', jobId };
  return { view: 'review', jobId, revision: match[2] === undefined ? null : Number(match[2]) };
}

const moved = 'plateglass-moved';

export function goTo(path: string): void {
  history.pushState(null, '', path);
  dispatchEvent(new Event(moved));
}

export function useRoute(): Route {
  const [path, setPath] = useState(location.pathname);
  useEffect(() => {
    const look = () => setPath(location.pathname);
    addEventListener('popstate', look);
    addEventListener(moved, look);
    return () => {
      removeEventListener('popstate', look);
      removeEventListener(moved, look);
    };
  }, []);
  return routeOf(path);
}
