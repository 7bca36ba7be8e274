import { join } from 'node:path';
import type { TakenIn } from '../jobs/jobTypes.ts';
import type { Disk } from './disk.ts';
import { readManifest } from './manifest.ts';
import type { Say } from './say.ts';
import { settleTaken } from './settleTaken.ts';
import { placeIn } from './spool.ts';
import type { IntakeTools } from './takeIn.ts';
import { handToStore } from './takeIn.ts';

/**
 * Puts right what a crash left: half copies go (their sources are untouched), jobs that were copied as a whole but not
 * handed to the store are handed over, their originals moved. Before the first sweep, and by one process alone.
 */
export async function repair(tools: IntakeTools, outcomes: string, say: Say): Promise<void> {
  const { disk, spool, store } = tools;
  for (const { name } of await disk.list(spool.tmp)) await disk.remove(join(spool.tmp, name));
  for (const { name } of await disk.list(spool.jobs)) {
    const place = placeIn(spool.jobs, name);
    const manifest = await readManifest(disk, place.manifest);
    if (manifest === null) {
      say.trouble(`${place.folder} has no manifest that can be read. It is left as it is.`);
      continue;
    }
    // The store points to the originals wherever they are; without them here, they have been moved on.
    if ((await disk.stat(place.keep)) === null) {
      await disk.remove(place.folder);
      continue;
    }
    if ((await disk.stat(place.settled)) !== null) continue;
    const known = await readTaken(disk, place.taken);
    const taken = known ?? (await handToStore(disk, store, place, manifest));
    await settleTaken(
      tools,
      { manifest, place, taken },
      outcomes,
      known === null ? say : { ...say, job: () => undefined },
    );
  }
}

async function readTaken(disk: Disk, path: string): Promise<TakenIn | null> {
  if ((await disk.stat(path)) === null) return null;
  const file = await disk.openToRead(path);
  try {
    return JSON.parse(await file.readFile('utf8')) as TakenIn;
  } finally {
    await file.close();
  }
}
