import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { mkdir, open, readdir, readFile, rename } from 'node:fs/promises';
import { join } from 'node:path';
import { FileBlobs, syncFolder } from './fileBlobs.ts';
import type { OpenedStore } from './jobStore.ts';
import { blobsOfExport } from './sql/importRows.ts';
import { StoreRequestError, UnusableStoreError } from './storeErrors.ts';

/**
 * A backup is a folder: `records.jsonl`, every record as of one instant (the same for both databases, so that a backup
 * of one can be restored into the other); `blobs`, the reports and pictures they refer to; and, written last,
 * `backup.json` with the hash of the records. Without it the backup is not complete.
 */
export interface BackupSummary {
  readonly format: typeof backupFormat;
  readonly recordsSha256: string;
  readonly blobs: number;
  readonly blobBytes: number;
  /** Referred to, but not in the blob store when the backup was made. */
  readonly missing: readonly string[];
}

const backupFormat = 'plateglass/backup/1';
const recordsName = 'records.jsonl';
const summaryName = 'backup.json';

/** Writes a backup into a folder that is not there or empty. */
export async function backup({ jobs, blobs }: OpenedStore, folder: string): Promise<BackupSummary> {
  await mkdir(folder, { recursive: true, mode: 0o700 });
  if ((await readdir(folder)).length > 0) {
    throw new StoreRequestError(`${folder} is not empty. Give a new folder for each backup.`);
  }
  const records = join(folder, recordsName);
  await jobs.exportRows(records);
  const copies = new FileBlobs(join(folder, 'blobs'));
  const missing: string[] = [];
  let count = 0;
  let blobBytes = 0;
  for (const sha256 of await blobsOfExport(records)) {
    if (!(await blobs.has(sha256))) {
      missing.push(sha256);
      continue;
    }
    const copy = await copies.putFile(blobs.pathOf(sha256));
    if (copy.sha256 !== sha256) throw new UnusableStoreError(`${blobs.pathOf(sha256)} is damaged.`);
    count += 1;
    blobBytes += copy.sizeBytes;
  }
  const summary = {
    format: backupFormat,
    recordsSha256: await hashOf(records),
    blobs: count,
    blobBytes,
    missing,
  } as const;
  await writeSummary(folder, summary);
  return summary;
}

/** The summary and the records file of a backup whose records are what they were. */
export async function readBackup(folder: string): Promise<{ summary: BackupSummary; records: string }> {
  const summary: BackupSummary = await readFile(join(folder, summaryName), 'utf8').then(JSON.parse, () => null);
  if (summary?.format !== backupFormat) {
    throw new UnusableStoreError(`${folder} is not a complete backup: ${summaryName} is missing or not readable.`);
  }
  const records = join(folder, recordsName);
  if ((await hashOf(records)) !== summary.recordsSha256) {
    throw new UnusableStoreError(`${records} is damaged: it is not what was backed up. Nothing was restored.`);
  }
  return { summary, records };
}

export function blobsOfBackup(folder: string): FileBlobs {
  return new FileBlobs(join(folder, 'blobs'));
}

async function writeSummary(folder: string, summary: BackupSummary): Promise<void> {
  const incoming = join(folder, `${summaryName}.tmp`);
  const handle = await open(incoming, 'wx', 0o600);
  try {
    await handle.writeFile(`${JSON.stringify(summary, null, 2)}\n`);
    await handle.sync();
  } finally {
    await handle.close();
  }
  await rename(incoming, join(folder, summaryName));
  await syncFolder(folder);
}

async function hashOf(file: string): Promise<string> {
  const hash = createHash('sha256');
  for await (const part of createReadStream(file)) hash.update(part);
  return hash.digest('hex');
}
