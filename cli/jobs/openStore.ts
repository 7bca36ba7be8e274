import { stat } from 'node:fs/promises';
import { join } from 'node:path';
import { spoolIn } from '../../src/intake/spool.ts';
import type { OpenedStore, OpenOptions } from '../../src/jobs/jobStore.ts';
import type { JobFilter } from '../../src/jobs/jobTypes.ts';
import { isPostgres, openJobStore } from '../../src/jobs/openJobStore.ts';
import { UsageError } from '../usageError.ts';
import type { FilterChoice, StoreChoice } from './addJobsCommands.ts';

export function storeOptions({ store, blobs }: StoreChoice): OpenOptions {
  return { location: store, owner: 'plateglass jobs', ...(blobs !== undefined && { blobFolder: blobs }) };
}

/** Opens a store that is there; looking into one must not make it. `needs`: with or without reports and pictures. */
export async function withStore<Result>(
  choice: StoreChoice,
  needs: 'records' | 'all',
  work: (store: OpenedStore) => Promise<Result>,
): Promise<Result> {
  const place = await placeOf(choice.store);
  const store = await openJobStore({ ...storeOptions({ ...choice, store: place }), recordsOnly: needs === 'records' });
  try {
    return await work(store);
  } finally {
    await store.close();
  }
}

/** Whether there is a store to look into. What a database holds is told when it is opened. */
export async function isStoreAt(store: string): Promise<boolean> {
  return isPostgres(store) || (await folderOf(store)) !== null;
}

async function placeOf(store: string): Promise<string> {
  const place = isPostgres(store) ? store : await folderOf(store);
  if (place === null) throw new UsageError(`There is no job store in ${store}. Say where it is with --store.`);
  return place;
}

/** The folder of the store itself; a folder that is watched has its own, unless it was given another. */
async function folderOf(store: string): Promise<string | null> {
  for (const place of [store, join(spoolIn(store).home, 'store')]) {
    const isThere = await stat(join(place, 'store.sqlite')).then(
      () => true,
      () => false,
    );
    if (isThere) return place;
  }
  return null;
}

export function filterOf(choice: FilterChoice): JobFilter {
  return {
    name: choice.name,
    customer: choice.customer,
    ink: choice.ink,
    arrivedFrom: choice.from,
    arrivedBefore: choice.until,
    verdicts: choice.verdict,
    states: choice.state,
    standing: choice.standing,
    allRevisions: choice.allRevisions,
  };
}
