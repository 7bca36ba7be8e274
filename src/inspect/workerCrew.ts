import { Tinypool } from 'tinypool';
import type { Crew } from './crew.ts';

/** A crew of worker threads. Plates lie in shared memory, so handing them over copies nothing. */
export function workerCrew(hands: number): Crew {
  const pool = new Tinypool({
    filename: new URL('./worker.js', import.meta.url).href,
    runtime: 'worker_threads',
    minThreads: hands,
    maxThreads: hands,
    idleTimeout: 60_000,
  });
  let dismissed: Promise<void> | null = null;
  return {
    do: (name, input) => pool.run({ name, input }),
    hands,
    dismiss: () => {
      dismissed ??= pool.destroy();
      return dismissed;
    },
  };
}
