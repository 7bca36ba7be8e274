import { createReadStream } from 'node:fs';
import { createInterface } from 'node:readline';
import { UnusableStoreError } from '../storeErrors.ts';
import { type Database, marks, one, type SqlValue } from './database.ts';
import { exportFormat } from './exportRows.ts';
import { type Migrations, migrate, storedVersion } from './migrate.ts';
import { tablesInOrder, tablesWithIds } from './schema.ts';

/**
 * Puts exported rows into a database that holds no jobs, in one transaction, and brings them to the newest version.
 * How many rows there were.
 */
export async function importRows(database: Database, file: string, migrations: Migrations): Promise<number> {
  const schemaVersion = await refuseUnfit(database, file, migrations);
  // Rows go into tables of their own version, which are then brought up to date like those of any older store.
  await migrate(database, migrations.slice(0, schemaVersion), 'the store', async () => undefined);
  const rows = await database.write(async (transaction) => {
    await transaction.lockStore();
    await transaction.change('DELETE FROM store_info');
    let count = 0;
    let ended = false;
    for await (const line of linesOf(file)) {
      if (line.end) ended = line.rows === count;
      if (line.table === undefined || line.row === undefined) continue;
      if (!(tablesInOrder as readonly string[]).includes(line.table)) throw broken(file);
      const columns = Object.keys(line.row);
      if (!columns.every((column) => /^[a-z0-9_]+$/.test(column))) throw broken(file);
      await transaction.change(
        `INSERT INTO ${line.table} (${columns.join(', ')}) VALUES (${marks(columns)})`,
        Object.values(line.row),
      );
      count++;
    }
    if (!ended) throw broken(file);
    await database.continueIds(transaction, tablesWithIds);
    return count;
  });
  await migrate(database, migrations, 'the store', async () => undefined);
  return rows;
}

interface Line {
  readonly format?: string;
  readonly schemaVersion?: number;
  readonly table?: string;
  readonly row?: Readonly<Record<string, SqlValue>>;
  readonly end?: boolean;
  readonly rows?: number;
}

/** Names and hashes of what the exported records refer to in the blob store. */
export async function blobsOfExport(file: string): Promise<Set<string>> {
  const found = new Set<string>();
  // Revisions stand before their files; the originals of what came through the page are kept with the reports.
  const fromPage = new Set<string>();
  for await (const { table, row } of linesOf(file)) {
    if (row === undefined) continue;
    if (table === 'revisions' && row.source_kind === 'page') fromPage.add(String(row.id));
    if (table === 'artifacts' || (table === 'files' && fromPage.has(String(row.revision_id))))
      found.add(String(row.sha256));
  }
  return found;
}

async function readHead(file: string): Promise<{ schemaVersion: number }> {
  for await (const { format, schemaVersion } of linesOf(file)) {
    if (format !== exportFormat || schemaVersion === undefined) break;
    return { schemaVersion };
  }
  throw broken(file);
}

async function* linesOf(file: string): AsyncGenerator<Line> {
  for await (const line of createInterface({ input: createReadStream(file), crlfDelay: Number.POSITIVE_INFINITY })) {
    try {
      yield JSON.parse(line);
    } catch {
      throw broken(file);
    }
  }
}

/** Refuses rows of a newer version, and a database that holds jobs; else the version of the rows. */
export async function refuseUnfit(database: Database, file: string, migrations: Migrations): Promise<number> {
  const { schemaVersion } = await readHead(file);
  if (!(schemaVersion >= 1 && schemaVersion <= migrations.length)) {
    throw new UnusableStoreError(
      `The backup was written by a newer Plateglass (version ${schemaVersion}, this one knows ${migrations.length}).`,
    );
  }
  await database.read(async (transaction) => {
    const version = await storedVersion(transaction, 'The place to restore to');
    if (version === 0) return;
    const jobs = (await one<{ count: number }>(transaction, 'SELECT COUNT(*) AS count FROM jobs'))!;
    if (jobs.count === 0 && version === schemaVersion) return;
    throw new UnusableStoreError(
      jobs.count > 0
        ? `There is a store with ${jobs.count} jobs already. Nothing was changed. Restore into another place.`
        : 'There is an empty store of another version already. Restore into another place.',
    );
  });
  return schemaVersion;
}

function broken(file: string): UnusableStoreError {
  return new UnusableStoreError(`${file} is damaged or was not written to its end.`);
}
