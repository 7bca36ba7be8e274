import { join } from 'node:path';
import { isZip } from './complete/index.ts';
import type { Disk } from './disk.ts';
import type { JobPlace } from './spool.ts';
import { ArchiveRefused, unpackArchive } from './unpackArchive.ts';

/**
 * Replaces a job's only file by what is packed in it, when it is an archive. The archive
 * itself is put beside. Answers why it was refused, or null; a refused archive leaves an empty folder.
 */
export async function unpackWhereArchive(
  disk: Disk,
  { art, archive }: Pick<JobPlace, 'art' | 'archive'>,
): Promise<string | null> {
  const entries = await disk.list(art);
  if (entries.length !== 1) return null;
  const file = join(art, entries[0].name);
  if (!isZip(await headOf(disk, file))) return null;
  await disk.rename(file, archive);
  try {
    await unpackArchive(disk, archive, art);
    return null;
  } catch (error) {
    if (!(error instanceof ArchiveRefused)) throw error;
    await disk.remove(art);
    await disk.makeFolder(art);
    return error.message;
  }
}

async function headOf(disk: Disk, path: string): Promise<Uint8Array> {
  const file = await disk.openToRead(path);
  try {
    const head = new Uint8Array(4);
    await file.read(head, 0, 4, 0);
    return head;
  } finally {
    await file.close();
  }
}
