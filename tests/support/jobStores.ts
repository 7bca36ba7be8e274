import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { JobStore } from '../../src/jobs/jobStore.ts';
import type { Arrival, JobFile, WorkResult } from '../../src/jobs/jobTypes.ts';
import type { Database } from '../../src/jobs/sql/database.ts';
import { migrate } from '../../src/jobs/sql/migrate.ts';
import { PostgresDatabase, schemaName } from '../../src/jobs/sql/postgresDatabase.ts';
import { migrations } from '../../src/jobs/sql/schema.ts';
import { SqliteDatabase } from '../../src/jobs/sql/sqliteDatabase.ts';
import { sqlJobStore } from '../../src/jobs/sql/sqlJobStore.ts';
import { type PostgresCluster, startPostgres } from './postgresCluster.ts';

export interface StoreUnderTest {
  readonly store: JobStore;
  /** For what no call of the store can bring about: a clock that was set back, a lease long ago. */
  readonly database: Database;
}

export interface StoreKind {
  readonly name: string;
  /** False where the database is not installed, which has been said aloud. */
  begin(): Promise<boolean>;
  /** A new, empty store; the one before is closed. */
  make(maxFailures?: number): Promise<StoreUnderTest>;
  end(): Promise<void>;
}

/** Both databases. */
export const storeKinds: readonly StoreKind[] = [embedded(), postgres()];

function embedded(): StoreKind {
  let before: { store: JobStore; folder: string } | null = null;
  const end = async () => {
    await before?.store.close();
    if (before !== null) rmSync(before.folder, { recursive: true, force: true });
  };
  return {
    name: 'embedded store',
    begin: async () => true,
    make: async (maxFailures = 3) => {
      await end();
      const folder = makeFolder();
      const made = await ready(new SqliteDatabase(join(folder, 'store.sqlite')), maxFailures);
      before = { store: made.store, folder };
      return made;
    },
    end,
  };
}

function postgres(): StoreKind {
  let cluster: PostgresCluster | null = null;
  let address = '';
  let before: JobStore | null = null;
  return {
    name: 'PostgreSQL',
    begin: async () => {
      cluster = await startPostgres();
      if (cluster !== null) address = await cluster.makeDatabase();
      return cluster !== null;
    },
    make: async (maxFailures = 3) => {
      await before?.close();
      const database = new PostgresDatabase(address);
      await database.write((transaction) => transaction.change(`DROP SCHEMA IF EXISTS ${schemaName} CASCADE`));
      await database.createSchema();
      const made = await ready(database, maxFailures);
      before = made.store;
      return made;
    },
    end: async () => {
      await before?.close();
      cluster?.remove();
    },
  };
}

async function ready(database: Database, maxFailures: number): Promise<StoreUnderTest> {
  await migrate(database, migrations, 'test', async () => undefined);
  return { store: sqlJobStore(database, maxFailures), database };
}

export function makeFolder(): string {
  return mkdtempSync(join(tmpdir(), 'plateglass-jobs-'));
}

/** A file whose hash is the digit or letter, 64 times. */
export function jobFile(name: string, hexDigit: string, more: Partial<JobFile> = {}): JobFile {
  return { name, sizeBytes: 1_000, sha256: hexDigit.repeat(64), storedPath: `/spool/${name}`, ...more };
}

export function arrival(jobName: string, more: Partial<Arrival> = {}): Arrival {
  return {
    jobName,
    customer: null,
    source: { kind: 'folder', detail: '/drop' },
    files: [jobFile(jobName, 'a')],
    ticketFile: null,
    arrivedAt: Date.UTC(2026, 5, 24, 9, 30),
    by: 'hot folder',
    placeAt: '/spool',
    ...more,
  };
}

export function result(more: Partial<WorkResult> = {}): WorkResult {
  return { verdict: 'pass', reason: null, artifacts: [], inkNames: [], timings: { all: 1.5 }, ...more };
}
