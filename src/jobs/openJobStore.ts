import { join, resolve } from 'node:path';
import { FileBlobs } from './fileBlobs.ts';
import type { JobStore, OpenedStore, OpenOptions } from './jobStore.ts';
import { migrations as currentMigrations } from './sql/schema.ts';
import { UnusableStoreError } from './storeErrors.ts';

const usualMaxFailures = 3;

/** Opens the store, making it when it is not there; closes it again with `close`. */
export async function openJobStore(options: OpenOptions, migrations = currentMigrations): Promise<OpenedStore> {
  const blobs = new FileBlobs(options.recordsOnly ? null : blobFolderOf(options));
  const jobs = await openRecords(options, migrations);
  return { jobs, blobs, close: () => jobs.close() };
}

export function isPostgres(location: string): boolean {
  return /^postgres(ql)?:\/\//.test(location);
}

export function blobFolderOf({ location, blobFolder }: OpenOptions): string {
  if (blobFolder !== undefined) return resolve(blobFolder);
  if (!isPostgres(location)) return join(resolve(location), 'blobs');
  throw new UnusableStoreError(
    'With PostgreSQL, say where reports and pictures are kept: --blobs and a folder that all machines share.',
  );
}

/** Each database is loaded when it is used. */
async function openRecords(options: OpenOptions, migrations: typeof currentMigrations): Promise<JobStore> {
  const maxFailures = options.maxFailures ?? usualMaxFailures;
  if (isPostgres(options.location)) {
    const { openPostgresStore } = await import('./postgresStore.ts');
    return openPostgresStore({
      connectionString: options.location,
      copyFolder: () => blobFolderOf(options),
      maxFailures,
      migrations,
    });
  }
  const { openEmbeddedStore } = await import('./embeddedStore.ts');
  return openEmbeddedStore({ folder: resolve(options.location), owner: options.owner, maxFailures, migrations });
}
