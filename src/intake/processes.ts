import { readFileSync } from 'node:fs';

/** A process that cannot be mistaken for a later one of the same number. */
export interface ProcessMark {
  readonly pid: number;
  /** Clock ticks from the start of the machine to that of the process; null where the system does not tell. */
  readonly started: string | null;
}

export function ownMark(): ProcessMark {
  return { pid: process.pid, started: startOf(process.pid) };
}

/** Whether the process of this mark still runs on this machine. */
export function isAlive({ pid, started }: ProcessMark): boolean {
  const now = startOf(pid);
  if (started !== null && now !== null) return now === started;
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}

/** Field 22 of /proc/PID/stat (proc(5)); the name in field 2 may hold anything, so it is counted from its end. */
function startOf(pid: number): string | null {
  try {
    const text = readFileSync(`/proc/${pid}/stat`, 'utf8');
    const fields = text.slice(text.lastIndexOf(')') + 2).split(' ');
    return fields[0] === 'Z' || fields[0] === 'X' ? 'ended' : fields[19];
  } catch {
    return null;
  }
}
