import { mkdir } from 'node:fs/promises';
import { resolve } from 'node:path';
import { blobsOfBackup, readBackup } from './backup.ts';
import { databaseFile, readOwner } from './embeddedStore.ts';
import { FileBlobs } from './fileBlobs.ts';
import type { OpenOptions } from './jobStore.ts';
import { refuseNetworkFolder } from './localFileSystem.ts';
import { blobFolderOf, isPostgres } from './openJobStore.ts';
import type { Database } from './sql/database.ts';
import { blobsOfExport, importRows, refuseUnfit } from './sql/importRows.ts';
import { migrations as currentMigrations } from './sql/schema.ts';
import { UnusableStoreError } from './storeErrors.ts';

/**
 * Restores a backup into a store that holds no jobs yet; never over another. Reports and pictures first, each checked
 * against its hash, then all records in one transaction, so that an interrupted restore leaves an empty store.
 */
export async function restore(
  backupFolder: string,
  options: OpenOptions,
  migrations = currentMigrations,
): Promise<{ rows: number; blobs: number }> {
  const { summary, records } = await readBackup(backupFolder);
  const wanted = [...(await blobsOfExport(records))].filter((sha256) => !summary.missing.includes(sha256));
  const copies = blobsOfBackup(backupFolder);
  for (const sha256 of wanted) await copies.read(sha256).catch((error) => refuse(sha256, error));
  const database = await openDatabase(options);
  try {
    await refuseUnfit(database, records, migrations);
    const blobs = new FileBlobs(blobFolderOf(options));
    for (const sha256 of wanted) await blobs.putFile(copies.pathOf(sha256));
    return { rows: await importRows(database, records, migrations), blobs: wanted.length };
  } finally {
    await database.close();
  }
}

function refuse(sha256: string, error: Error): never {
  throw new UnusableStoreError(
    error instanceof UnusableStoreError
      ? `${error.message} Nothing was restored.`
      : `The backup lacks the blob ${sha256}. Nothing was restored.`,
  );
}

async function openDatabase({ location }: OpenOptions): Promise<Database> {
  if (isPostgres(location)) {
    const { PostgresDatabase } = await import('./sql/postgresDatabase.ts');
    const database = new PostgresDatabase(location);
    await database.createSchema();
    return database;
  }
  const folder = resolve(location);
  await mkdir(folder, { recursive: true, mode: 0o700 });
  await refuseNetworkFolder(folder);
  const { SqliteDatabase, OwnedElsewhereError } = await import('./sql/sqliteDatabase.ts');
  try {
    return new SqliteDatabase(databaseFile(folder));
  } catch (error) {
    if (!(error instanceof OwnedElsewhereError)) throw error;
    const { owner, pid } = await readOwner(folder);
    throw new UnusableStoreError(`${folder} is in use by ${owner} (process ${pid}). Restore into another place.`);
  }
}
