import { hostname } from 'node:os';
import { join } from 'node:path';
import type { Disk } from './disk.ts';
import { isAlive } from './processes.ts';
import type { Spool } from './spool.ts';

/** A worker's name is HOST:PID:START:HAND; its folder has the same parts. */
const separator = '~';

export function workFolderOf(workerId: string): string {
  return workerId
    .split(':')
    .map((part) => part.replace(/[^\w.-]/g, '_'))
    .join(separator);
}

/** Removes what workers of this machine that have ended left behind. */
export async function clearWork(disk: Disk, spool: Spool): Promise<void> {
  const host = workFolderOf(hostname());
  for (const { name } of await disk.list(spool.work)) {
    const parts = name.split(separator);
    if (parts.length !== 4 || parts[0] !== host) continue;
    if (!isAlive({ pid: Number(parts[1]), started: parts[2] === '-' ? null : parts[2] }))
      await disk.remove(join(spool.work, name));
  }
}
