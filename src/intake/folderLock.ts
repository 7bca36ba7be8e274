import { link, open, readFile, rename, rm, stat, utimes, writeFile } from 'node:fs/promises';
import { hostname } from 'node:os';
import { setTimeout as sleep } from 'node:timers/promises';
import type { Clock } from './clock.ts';
import type { ProcessMark } from './processes.ts';
import { isAlive, ownMark } from './processes.ts';

/** Another process watches the folder. */
export class FolderIsWatched extends Error {
  override readonly name = 'FolderIsWatched';
}

interface Owner extends ProcessMark {
  readonly host: string;
  /** Unlike that of every other start. */
  readonly token: string;
}

export interface LockOptions {
  /** Unlike that of any other process. */
  readonly token: string;
  readonly clock: Clock;
  /** Where the lock of another machine may be taken over, and who is told of it; null: it may not. */
  readonly takeOver: ((line: string) => void) | null;
  /** This machine's name. */
  readonly host?: string;
  readonly pause?: (ms: number) => Promise<void>;
}

export interface FolderLock {
  /** Names of workers that the owner before left behind, whoever they are: the beginning they all share. */
  readonly left: string | null;
  release(): Promise<void>;
}

/** How often the owner touches the lock, and for how long an untouched lock of another machine is watched. */
const beatMs = 5_000;
const deadAfterMs = 20_000;

/** The beginning of the names of all workers of one process. */
export function workerPrefix({ host, pid, started }: { host: string } & ProcessMark): string {
  return `${host}:${pid}:${started ?? '-'}:`;
}

/**
 * Takes the lock of a folder, or throws FolderIsWatched. The lock of a process of this machine that has ended is taken
 * over at once. Whether a process of another machine has ended cannot be known from here, so its lock is only taken over
 * where that was asked for, and when nobody touches it while it is looked at, whatever the clocks say.
 */
export async function lockFolder(path: string, options: LockOptions): Promise<FolderLock> {
  const { token, clock, takeOver } = options;
  const own: Owner = { ...ownMark(), host: options.host ?? hostname(), token };
  const written = `${path}.${token}`;
  await writeFile(written, JSON.stringify(own));
  let left: string | null = null;
  try {
    while (!(await linked(written, path))) {
      const owner = await ownerOf(path);
      if (owner === null) continue;
      const who = `process ${owner.pid} on ${owner.host}`;
      const watched = `${who} watches this folder already. Stop it first, or watch another folder.`;
      if (owner.host === own.host) {
        if (isAlive(owner)) throw new FolderIsWatched(watched);
      } else {
        if (takeOver === null)
          throw new FolderIsWatched(
            `${who} holds this folder, and from here nobody can see whether it still runs. If it does, stop it there. If that machine is gone, start this one once with --take-over.`,
          );
        if (await isTouched(path, options)) throw new FolderIsWatched(watched);
        takeOver(`Nobody has touched the lock of ${who} for ${deadAfterMs / 1000} s: it is taken over.`);
      }
      left = workerPrefix(owner);
      // Only one of several that find it dead gets it out of the way; and only that lock, not one taken meanwhile.
      const aside = `${path}.${token}.dead`;
      await rename(path, aside).catch(() => undefined);
      const moved = await ownerOf(aside);
      if (moved !== null && moved.token !== owner.token) await linked(aside, path);
      await rm(aside, { force: true });
    }
  } finally {
    await rm(written, { force: true });
  }
  const beat = setInterval(() => {
    const now = clock.date();
    utimes(path, now, now).catch(() => undefined);
  }, beatMs);
  beat.unref();
  return {
    left,
    release: async () => {
      clearInterval(beat);
      if ((await ownerOf(path))?.token === token) await rm(path, { force: true });
    },
  };
}

/** Gives a file a second name that must be free; or makes it anew where the share knows no second names. */
async function linked(from: string, to: string): Promise<boolean> {
  try {
    await link(from, to);
    return true;
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === 'EEXIST') return false;
    if (code !== 'EPERM' && code !== 'ENOTSUP' && code !== 'EOPNOTSUPP' && code !== 'ENOSYS') throw error;
  }
  try {
    const file = await open(to, 'wx');
    await file.writeFile(await readFile(from));
    await file.close();
    return true;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'EEXIST') return false;
    throw error;
  }
}

async function ownerOf(path: string): Promise<Owner | null> {
  try {
    return JSON.parse(await readFile(path, 'utf8')) as Owner;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return null;
    if (error instanceof SyntaxError) return { pid: 0, started: 'ended', host: hostname(), token: '' };
    throw error;
  }
}

async function isTouched(path: string, { clock, pause = sleep }: LockOptions): Promise<boolean> {
  const first = (await stat(path)).mtimeMs;
  const until = clock.monotonicMs() + deadAfterMs;
  while (clock.monotonicMs() < until) {
    await pause(1_000);
    const now = await stat(path).catch(() => null);
    if (now === null) return false;
    if (now.mtimeMs !== first) return true;
  }
  return false;
}
