import type { SvgJob } from '../../artwork/drawing.ts';

type Fragment = SvgJob['fragments'][number];

export interface DraftFragment extends Fragment {
  /** Ids of the clips and masks it cannot do without. */
  readonly needs: ReadonlySet<string>;
}

/** Characters of copies a definition may take when it is put into each fragment that needs it. */
const maxCopies = 20_000;

/**
 * The clips and masks of a job. A definition that few fragments need stands in them, so that tiles they miss need not
 * read it; one that many need stands once for all. Copies under one id are the same, so it does not matter which counts.
 */
export function createDefinitions() {
  const markups = new Map<string, string>();
  const needsOf = new Map<string, ReadonlySet<string>>();
  let current = new Set<string>();

  const define = (id: string, make: () => string): string => {
    if (!markups.has(id)) {
      const outer = current;
      current = new Set();
      markups.set(id, make());
      needsOf.set(id, current);
      current = outer;
    }
    current.add(id);
    for (const other of needsOf.get(id)!) current.add(other);
    return id;
  };

  const startFragment = (): ReadonlySet<string> => {
    current = new Set();
    return current;
  };

  const join = (drafts: readonly DraftFragment[]): Pick<SvgJob, 'defs' | 'fragments'> => {
    const uses = new Map<string, number>();
    for (const { needs } of drafts) for (const id of needs) uses.set(id, (uses.get(id) ?? 0) + 1);
    const isShared = (id: string) => uses.get(id)! > 1 && uses.get(id)! * markups.get(id)!.length > maxCopies;
    const defs = [...markups].filter(([id]) => uses.has(id) && isShared(id)).map(([, markup]) => markup);
    const fragments = drafts.map(({ markup, boxMm, needs }) => {
      const own = [...needs].filter((id) => !isShared(id)).map((id) => markups.get(id)!);
      return { markup: own.join('') + markup, boxMm };
    });
    return { defs: defs.join(''), fragments };
  };
  return { define, startFragment, join };
}
