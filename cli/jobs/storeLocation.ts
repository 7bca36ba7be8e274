import { homedir } from 'node:os';
import { isAbsolute, join } from 'node:path';

/** Where the job store lies unless told, for every command: the folder this system gives programs for what they remember. */
export function usualStoreLocation(environment: NodeJS.ProcessEnv = process.env): string {
  const state = environment.XDG_STATE_HOME;
  const base = state !== undefined && isAbsolute(state) ? state : join(homedir(), '.local', 'state');
  return join(base, 'plateglass');
}
