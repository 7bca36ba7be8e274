import { open } from 'node:fs/promises';
import { type Database, marks, type SqlValue, type Transaction } from './database.ts';
import { storedVersion } from './migrate.ts';
import { tablesInOrder } from './schema.ts';

export const exportFormat = 'plateglass/jobs/1';
const rowsAtOnce = 1_000;

/** Columns that put the rows of a table in a fixed order, and by which it is read piece by piece. */
const orderOf: Record<(typeof tablesInOrder)[number], readonly string[]> = {
  store_info: ['name'],
  jobs: ['id'],
  revisions: ['id'],
  files: ['revision_id', 'position'],
  artifacts: ['revision_id', 'position'],
  revision_inks: ['revision_id', 'position'],
  tries: ['revision_id', 'attempt'],
  decisions: ['id'],
  history: ['id'],
  effects: ['id'],
  customer_links: ['id'],
  customer_answers: ['id'],
};

/**
 * Writes all rows as of one instant as JSON lines: a head with format and version, `{"table", "row"}` for every row, a
 * last line with their number. The file must not exist; it is on the disk when the promise is kept.
 */
export async function exportRows(database: Database, file: string): Promise<void> {
  const handle = await open(file, 'wx', 0o600);
  try {
    await database.snapshot(async (transaction) => {
      const version = await storedVersion(transaction, file);
      const tables = await transaction.tableNames();
      await handle.write(`${JSON.stringify({ format: exportFormat, schemaVersion: version })}\n`);
      let rows = 0;
      for (const table of tablesInOrder.filter((name) => tables.includes(name))) {
        for await (const part of partsOf(transaction, table)) {
          await handle.write(part.map((row) => `${JSON.stringify({ table, row })}\n`).join(''));
          rows += part.length;
        }
      }
      await handle.write(`${JSON.stringify({ end: true, rows })}\n`);
    });
    await handle.sync();
  } finally {
    await handle.close();
  }
}

async function* partsOf(transaction: Transaction, table: keyof typeof orderOf) {
  const columns = orderOf[table];
  const order = columns.join(', ');
  let behind: readonly SqlValue[] = [];
  for (;;) {
    const part: Record<string, SqlValue>[] = await transaction.all(
      `SELECT * FROM ${table}${behind.length === 0 ? '' : ` WHERE (${order}) > (${marks(behind)})`}
        ORDER BY ${order} LIMIT ${rowsAtOnce}`,
      behind,
    );
    if (part.length > 0) yield part;
    if (part.length < rowsAtOnce) return;
    const last = part[part.length - 1];
    behind = columns.map((column) => last[column]);
  }
}
