import type { Disk } from './disk.ts';
import { writeWhole } from './disk.ts';
import type { Spool } from './spool.ts';

/** Makes the spool in a watched folder, or finds it there; the answer tells this folder from any other. */
export async function prepareFolder(disk: Disk, spool: Spool, newId: () => string): Promise<string> {
  for (const folder of [spool.tmp, spool.jobs, spool.work, spool.log]) await disk.makeFolder(folder);
  const known = await readIdentity(disk, spool);
  if (known !== null) return known;
  const id = newId();
  await writeWhole(disk, spool.identity, JSON.stringify({ version: 1, id }));
  await disk.syncFolder(spool.root);
  return id;
}

/** Whether the folder that is under the name now is the one that was prepared. */
export async function isOurFolder(disk: Disk, spool: Spool, id: string): Promise<boolean> {
  return (await readIdentity(disk, spool)) === id;
}

async function readIdentity(disk: Disk, spool: Spool): Promise<string | null> {
  if ((await disk.stat(spool.identity)) === null) return null;
  const file = await disk.openToRead(spool.identity);
  try {
    return (JSON.parse(await file.readFile('utf8')) as { id: string }).id;
  } finally {
    await file.close();
  }
}
