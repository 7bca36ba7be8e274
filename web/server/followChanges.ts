import type { Change } from '../../src/jobs/jobTypes.ts';

/** Numbers of changes that are written at the same time may be seen out of order, so some before are looked at again. */
const lookBack = 50;

export interface Following {
  stop(): void;
}

/** Tells of every job whose history grows, whichever process wrote into it. Nothing is asked while nobody listens. */
export function followChanges(
  changesAfter: (id: number | null) => Promise<readonly Change[]>,
  everyMs: number,
  isHeard: () => boolean,
  tell: (jobId: number) => void,
): Following {
  let last: number | null = null;
  let told = new Set<number>();
  let stopped = false;
  let timer: NodeJS.Timeout;

  const look = async () => {
    if (last === null) {
      const [latest] = await changesAfter(null);
      last = latest?.id ?? 0;
      for (const { id } of await changesAfter(Math.max(0, last - lookBack))) told.add(id);
      return;
    }
    const from = Math.max(0, last - lookBack);
    const changes = await changesAfter(from);
    const fresh = changes.filter(({ id }) => !told.has(id));
    for (const jobId of new Set(fresh.map((change) => change.jobId))) tell(jobId);
    told = new Set(changes.map(({ id }) => id));
    last = changes.at(-1)?.id ?? last;
  };
  const again = () => {
    timer = setTimeout(async () => {
      // Out of reach: what was missed is told once it is back.
      if (isHeard()) await look().catch(() => undefined);
      if (!stopped) again();
    }, everyMs);
    timer.unref();
  };
  again();
  return {
    stop: () => {
      stopped = true;
      clearTimeout(timer);
    },
  };
}
