import type { Task } from './task.ts';
import { runTask } from './task.ts';

/** What a worker thread does when it is handed a task. */
export function work(task: Task): ReturnType<typeof runTask> {
  return runTask(task);
}

// The pool calls the default export of the file it is given.
export default work;
