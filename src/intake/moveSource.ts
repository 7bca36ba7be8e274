import { basename, dirname, join } from 'node:path';
import { copyFile } from './copyFile.ts';
import type { Disk } from './disk.ts';
import { codeOf } from './disk.ts';
import { flatNames } from './dropFiles.ts';
import type { Manifest, TakenFile } from './manifest.ts';
import type { JobPlace, Spool } from './spool.ts';

/**
 * What became of a source after the job had been taken in. moved: the original lies in keep/. replaced: somebody put
 * another file under the name meanwhile, which stays where it is; keep/ holds the copy. stuck: it may not be moved.
 */
export type SourceMove = { readonly kind: 'moved' | 'replaced' } | { readonly kind: 'stuck'; readonly reason: string };

/**
 * Moves the originals of a job from the watched folder into keep/. May be done again after a crash at any point: what
 * is no longer under its name has been moved. An original that is not what was hashed goes back, to settle anew.
 */
export async function moveSource(disk: Disk, spool: Spool, place: JobPlace, manifest: Manifest): Promise<SourceMove> {
  let replaced = false;
  try {
    for (const name of manifest.names) {
      const from = join(spool.root, name);
      const to = join(place.keep, name);
      const own = filesOf(manifest, name);
      if ((await disk.stat(from)) === null || (await disk.stat(to)) !== null) continue;
      // Nothing of ours is under this name any more: what lies there came later.
      if (!(await areSame(disk, spool.root, own))) {
        replaced = true;
        continue;
      }
      if (name.includes('/')) await disk.makeFolder(dirname(to));
      await disk.rename(from, to);
      if (await areSame(disk, place.keep, own)) continue;
      replaced = true;
      await putBack(disk, to, from);
    }
    await keepCopies(disk, place, manifest);
  } catch (error) {
    if (!['EACCES', 'EPERM', 'EROFS', 'EBUSY', 'EXDEV'].includes(codeOf(error))) throw error;
    await keepCopies(disk, place, manifest);
    return { kind: 'stuck', reason: (error as Error).message };
  }
  await disk.syncFolder(place.keep);
  for (const folder of new Set(manifest.names.map((name) => dirname(join(spool.root, name)))))
    await disk.syncFolder(folder);
  return { kind: replaced ? 'replaced' : 'moved' };
}

/** The files that were found under a name of the watched folder. */
function filesOf(manifest: Manifest, name: string): TakenFile[] {
  const { art, ticket, others, artOfRevision } = manifest;
  const found = [...(artOfRevision === null ? art : []), ...(ticket === null ? [] : [ticket]), ...others];
  return found.filter(({ path }) => path === name || path.startsWith(`${name}/`));
}

async function areSame(disk: Disk, folder: string, files: readonly TakenFile[]): Promise<boolean> {
  for (const { path, identity } of files)
    if ((await disk.stat(join(folder, path)))?.identity !== identity) return false;
  return true;
}

/** Back under its own name, or where that is taken again under the next free one: it is somebody's file. */
async function putBack(disk: Disk, from: string, to: string): Promise<void> {
  for (let n = 1; ; n++) {
    const free = n === 1 ? to : join(dirname(to), `(${n}) ${basename(to)}`);
    try {
      if ((await disk.stat(from))?.kind !== 'folder') return await disk.renameToFree(from, free);
      if ((await disk.stat(free)) === null) return await disk.rename(from, free);
    } catch (error) {
      if (codeOf(error) !== 'EEXIST' && codeOf(error) !== 'ENOTEMPTY') throw error;
    }
  }
}

/** Puts the copy into keep/ wherever the original could not be had. */
async function keepCopies(disk: Disk, place: JobPlace, manifest: Manifest): Promise<void> {
  const packed = (await disk.stat(place.archive)) !== null;
  const names = flatNames(manifest.art.map(({ path }) => path));
  const copies = manifest.art.map(
    (file, index) => [file, packed ? place.archive : join(place.art, names[index])] as const,
  );
  if (manifest.ticket !== null) copies.push([manifest.ticket, join(place.ticket, basename(manifest.ticket.path))]);
  for (const [file, copy] of copies) {
    const kept = join(place.keep, file.path);
    if ((await disk.stat(kept)) !== null) continue;
    await disk.makeFolder(dirname(kept));
    const unfinished = join(place.folder, 'copy');
    await disk.remove(unfinished);
    await copyFile(disk, copy, unfinished);
    await disk.rename(unfinished, kept);
    await disk.syncFolder(dirname(kept));
  }
}
