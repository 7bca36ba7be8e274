import { backup } from '../../src/jobs/backup.ts';
import { restore } from '../../src/jobs/restore.ts';
import type { StoreChoice } from './addJobsCommands.ts';
import { storeOptions, withStore } from './openStore.ts';

/** Exit 1 when the backup is complete but for reports that the store itself lacked. */
export async function backupJobs(folder: string, options: StoreChoice): Promise<number> {
  const { blobs, blobBytes, missing } = await withStore(options, 'all', (store) => backup(store, folder));
  process.stdout.write(`Backup written: ${blobs} reports and pictures, ${(blobBytes / 1e6).toFixed(1)} MB.\n`);
  if (missing.length === 0) return 0;
  process.stderr.write(`${missing.length} reports or pictures were missing from the store; backup.json names them.\n`);
  return 1;
}

export async function restoreJobs(folder: string, options: StoreChoice): Promise<number> {
  const { rows, blobs } = await restore(folder, storeOptions(options));
  process.stdout.write(`Restored: ${rows} records, ${blobs} reports and pictures.\n`);
  return 0;
}
