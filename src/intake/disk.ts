import type { Dirent, Stats } from 'node:fs';
import { constants } from 'node:fs';
import * as fs from 'node:fs/promises';
import { dirname } from 'node:path';

export interface DiskEntry {
  readonly name: string;
  readonly kind: 'file' | 'folder' | 'link' | 'other';
}

export interface DiskStat {
  readonly kind: DiskEntry['kind'];
  readonly sizeBytes: number;
  /** Same content in the same place: size, time of writing, inode. It survives a rename. */
  readonly identity: string;
  /** The identity and the time anything at all was changed. */
  readonly look: string;
}

/** What intake asks of a file system. One place where tests put faults. */
export interface Disk {
  list(folder: string): Promise<DiskEntry[]>;
  /** Of the name itself, never of what a link points at; null when there is nothing. */
  stat(path: string): Promise<DiskStat | null>;
  openToRead(path: string): Promise<fs.FileHandle>;
  /** Makes a file that must not be there yet. */
  create(path: string): Promise<fs.FileHandle>;
  /** Makes the folder and those above it where they are missing. */
  makeFolder(path: string): Promise<void>;
  rename(from: string, to: string): Promise<void>;
  /** Moves a file to a name that must be free. */
  renameToFree(from: string, to: string): Promise<void>;
  /** The folder with all it holds, or the file; nothing when it is not there. */
  remove(path: string): Promise<void>;
  sync(file: fs.FileHandle): Promise<void>;
  /** Where a link points to, as it says itself. */
  readLink(path: string): Promise<string>;
  /** Makes a link under a name that must be free. */
  makeLink(target: string, path: string): Promise<void>;
  /** Makes sure that the names in a folder outlast a power cut. */
  syncFolder(path: string): Promise<void>;
}

export const realDisk: Disk = {
  list: async (folder) =>
    (await fs.readdir(folder, { withFileTypes: true })).map((entry) => ({
      name: entry.name,
      kind: kindOf(entry),
    })),
  stat: async (path) => {
    try {
      return statOf(await fs.lstat(path));
    } catch (error) {
      if (codeOf(error) === 'ENOENT' || codeOf(error) === 'ENOTDIR') return null;
      throw error;
    }
  },
  openToRead: (path) => fs.open(path, constants.O_RDONLY | constants.O_NOFOLLOW),
  create: (path) => fs.open(path, 'wx', 0o644),
  makeFolder: async (path) => {
    await fs.mkdir(path, { recursive: true });
  },
  rename: (from, to) => fs.rename(from, to),
  renameToFree,
  remove: (path) => fs.rm(path, { recursive: true, force: true }),
  sync: (file) => file.sync(),
  readLink: (path) => fs.readlink(path),
  makeLink: (target, path) => fs.symlink(target, path),
  syncFolder: async (path) => {
    const folder = await fs.open(path, 'r');
    try {
      await folder.sync();
    } finally {
      await folder.close();
    }
  },
};

function kindOf(found: Dirent | Stats): DiskEntry['kind'] {
  if (found.isFile()) return 'file';
  if (found.isDirectory()) return 'folder';
  return found.isSymbolicLink() ? 'link' : 'other';
}

export function statOf(stats: Stats): DiskStat {
  const identity = `${stats.size} ${stats.mtimeMs} ${stats.ino}`;
  return {
    kind: kindOf(stats),
    sizeBytes: stats.size,
    identity,
    look: `${identity} ${stats.ctimeMs}`,
  };
}

/** A second name for the file, then the first is taken away: the one move that never overwrites. */
async function renameToFree(from: string, to: string): Promise<void> {
  try {
    await fs.link(from, to);
  } catch (error) {
    // Some shares know no second names.
    if (!['EPERM', 'ENOTSUP', 'EOPNOTSUPP', 'ENOSYS', 'EMLINK'].includes(codeOf(error))) throw error;
    if ((await realDisk.stat(to)) !== null) throw Object.assign(new Error(`${to} is taken`), { code: 'EEXIST' });
    await fs.rename(from, to);
    return;
  }
  await fs.unlink(from);
}

export function codeOf(error: unknown): string {
  return (error as NodeJS.ErrnoException | null)?.code ?? '';
}

/** Writes a small file so that after a crash it is there as a whole or not at all. */
export async function writeWhole(disk: Disk, path: string, text: string): Promise<void> {
  const unfinished = `${path}.tmp`;
  await disk.remove(unfinished);
  const file = await disk.create(unfinished);
  try {
    await file.writeFile(text);
    await disk.sync(file);
  } finally {
    await file.close();
  }
  await disk.rename(unfinished, path);
  await disk.syncFolder(dirname(path));
}
