import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import type { JobStore } from './jobStore.ts';
import { exportRows } from './sql/exportRows.ts';
import { type Migrations, migrate } from './sql/migrate.ts';
import { PostgresDatabase } from './sql/postgresDatabase.ts';
import { sqlJobStore } from './sql/sqlJobStore.ts';

export interface PostgresOptions {
  readonly connectionString: string;
  /** Where the records of an older version are written before they are changed. */
  readonly copyFolder: () => string;
  readonly maxFailures: number;
  readonly migrations: Migrations;
}

export async function openPostgresStore(options: PostgresOptions): Promise<JobStore> {
  const database = new PostgresDatabase(options.connectionString);
  try {
    await database.createSchema();
    await migrate(database, options.migrations, 'this PostgreSQL database', async (version) => {
      const folder = options.copyFolder();
      await mkdir(folder, { recursive: true });
      const name = `before-version-${options.migrations.length}-from-${version}-${Date.now()}.jsonl`;
      await exportRows(database, join(folder, name));
    });
    return sqlJobStore(database, options.maxFailures);
  } catch (error) {
    await database.close();
    throw error;
  }
}
