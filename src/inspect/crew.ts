import type { TaskName, TaskTable } from './task.ts';
import { runTask } from './task.ts';

/** Those who do the work. The answers do not depend on how many they are. */
export interface Crew {
  do<Name extends TaskName>(name: Name, input: TaskTable[Name]['input']): Promise<TaskTable[Name]['output']>;
  /** How many tasks go on at once. */
  readonly hands: number;
  dismiss(): Promise<void>;
}

/** A crew of one that works in the thread it is called in. */
export function crewOfOne(): Crew {
  return {
    do: (name, input) => runTask({ name, input } as Parameters<typeof runTask>[0]) as never,
    hands: 1,
    dismiss: async () => {},
  };
}
