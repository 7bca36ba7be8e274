import { UnusableStoreError } from '../storeErrors.ts';
import { type Database, one, type Transaction } from './database.ts';

export type Migrations = readonly (readonly string[])[];

/**
 * Brings the tables to the newest version in one transaction. A store of an older version is copied first, by
 * `copyBefore`; one of a newer version, or a database that is not a store, is refused and left as it is.
 */
export async function migrate(
  database: Database,
  migrations: Migrations,
  name: string,
  copyBefore: (version: number) => Promise<void>,
): Promise<void> {
  const before = await database.read((transaction) => storedVersion(transaction, name));
  refuseNewer(before, migrations.length, name);
  if (before === migrations.length) return;
  if (before > 0) await copyBefore(before);
  await database.write(async (transaction) => {
    await transaction.lockStore();
    const version = await storedVersion(transaction, name);
    refuseNewer(version, migrations.length, name);
    if (version === migrations.length) return;
    for (const statement of migrations.slice(version).flat()) {
      await transaction.change(statement.replaceAll('{{id}}', database.idColumn));
    }
    await transaction.change('DELETE FROM store_info WHERE name = ?', ['schemaVersion']);
    await transaction.change('INSERT INTO store_info (name, value) VALUES (?, ?)', [
      'schemaVersion',
      String(migrations.length),
    ]);
  });
}

/** 0 when there are no tables yet. */
export async function storedVersion(transaction: Transaction, name: string): Promise<number> {
  const tables = await transaction.tableNames();
  if (tables.length === 0) return 0;
  const row = tables.includes('store_info')
    ? await one<{ value: string }>(transaction, 'SELECT value FROM store_info WHERE name = ?', ['schemaVersion'])
    : null;
  if (row === null) {
    throw new UnusableStoreError(`${name} holds a database that is not a job store. Give another place.`);
  }
  return Number(row.value);
}

function refuseNewer(version: number, known: number, name: string): void {
  if (version > known) {
    throw new UnusableStoreError(
      `The job store in ${name} was written by a newer Plateglass (version ${version}, this one knows ${known}). Nothing was changed. Use the newer program, or restore a backup into another place.`,
    );
  }
}
