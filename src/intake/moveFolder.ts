import { basename, dirname, join } from 'node:path';
import { copyFile, hashFile } from './copyFile.ts';
import type { Disk, DiskEntry } from './disk.ts';
import { codeOf } from './disk.ts';

/** Another folder is there under the name by now. */
export class NameIsTaken extends Error {
  override readonly name = 'NameIsTaken';
}

/**
 * Moves a folder with all it holds to a free name, so that it is at one place or the other as a whole. Onto another
 * device it is copied under a hidden name, compared, renamed, and only then taken away from where it was.
 * May be done again after a crash at any point.
 */
export async function moveFolder(disk: Disk, from: string, to: string): Promise<void> {
  const left = `${from}.moved`;
  const [source, there] = [await disk.stat(from), await disk.stat(to)];
  if (source === null && there !== null) return takeAway(disk, left);
  const parent = dirname(to);
  await disk.makeFolder(parent);
  const arriving = join(parent, `.${basename(to)}.part`);
  // A copy that was left half done is begun anew; one that got its name is whole.
  await disk.remove(arriving);
  if (there !== null && !(await isCopyOf(disk, from, to))) throw new NameIsTaken(to);
  if (there === null) {
    try {
      await disk.rename(from, to);
      await disk.syncFolder(parent);
      await disk.syncFolder(dirname(from));
      return;
    } catch (error) {
      if (codeOf(error) === 'ENOTEMPTY' || codeOf(error) === 'EEXIST') throw new NameIsTaken(to);
      if (codeOf(error) !== 'EXDEV') throw error;
    }
    await copyFolder(disk, from, arriving);
    if (!(await isCopyOf(disk, from, arriving))) throw new Error(`${from} changed while it was copied to ${parent}`);
    await disk.rename(arriving, to);
  }
  await disk.syncFolder(parent);
  // Out of the way in one step, so that nobody finds half of it.
  await disk.remove(left);
  await disk.rename(from, left);
  await takeAway(disk, left);
}

async function takeAway(disk: Disk, left: string): Promise<void> {
  await disk.remove(left);
  const parent = dirname(left);
  if ((await disk.stat(parent)) !== null) await disk.syncFolder(parent);
}

/** Sockets and the like hold nothing that could be copied, and stay behind. */
async function listOf(disk: Disk, folder: string): Promise<DiskEntry[]> {
  return (await disk.list(folder)).filter(({ kind }) => kind !== 'other');
}

async function copyFolder(disk: Disk, from: string, to: string): Promise<void> {
  await disk.makeFolder(to);
  for (const { name, kind } of await listOf(disk, from)) {
    const [source, target] = [join(from, name), join(to, name)];
    if (kind === 'folder') await copyFolder(disk, source, target);
    else if (kind === 'file') await copyFile(disk, source, target);
    else await disk.makeLink(await disk.readLink(source), target);
  }
  await disk.syncFolder(to);
}

async function isCopyOf(disk: Disk, one: string, other: string): Promise<boolean> {
  const [a, b] = await Promise.all([listOf(disk, one), listOf(disk, other)]);
  if (a.length !== b.length) return false;
  const kinds = new Map(b.map(({ name, kind }) => [name, kind]));
  for (const { name, kind } of a) {
    if (kinds.get(name) !== kind) return false;
    const [from, to] = [join(one, name), join(other, name)];
    const same =
      kind === 'folder'
        ? await isCopyOf(disk, from, to)
        : kind === 'file'
          ? (await hashFile(disk, from)) === (await hashFile(disk, to))
          : (await disk.readLink(from)) === (await disk.readLink(to));
    if (!same) return false;
  }
  return true;
}
