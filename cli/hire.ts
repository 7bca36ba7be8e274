import { availableParallelism } from 'node:os';
import type { Crew } from '../src/inspect/crew.ts';

/** More hands than this only wait for each other's memory. */
const mostHands = 8;

/** A crew of as many threads as asked for, or as the machine has; 0 works in the thread of the program. */
export async function hire(threads: number | undefined): Promise<Crew> {
  const hands = threads ?? Math.min(mostHands, availableParallelism());
  if (hands === 0) return (await import('../src/inspect/crew.ts')).crewOfOne();
  return (await import('../src/inspect/workerCrew.ts')).workerCrew(hands);
}
