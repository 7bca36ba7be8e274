import { mkdir, mkdtemp, readFile, rename, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import type { JobStore } from './jobStore.ts';
import { refuseNetworkFolder } from './localFileSystem.ts';
import { storeOfCalls } from './ownerProtocol.ts';
import { serveOwned } from './serveOwned.ts';
import { type Migrations, migrate } from './sql/migrate.ts';
import { OwnedElsewhereError, SqliteDatabase } from './sql/sqliteDatabase.ts';
import { sqlJobStore } from './sql/sqlJobStore.ts';
import { UnusableStoreError } from './storeErrors.ts';
import { visitOwner } from './visitOwner.ts';

const patienceMs = 10_000;
/** Longest path of a socket that every system takes. */
const longestSocketPath = 100;

interface Access {
  readonly store: JobStore;
  /** The owner has left: somebody must take its place. */
  isGone(): boolean;
  close(): Promise<void>;
}

export interface EmbeddedOptions {
  readonly folder: string;
  readonly owner: string;
  readonly maxFailures: number;
  readonly migrations: Migrations;
}

/**
 * The store in a folder of this machine. The first process to open it owns the database; later ones use it through the
 * owner, and one of them takes its place when it leaves, however it leaves.
 */
export async function openEmbeddedStore(options: EmbeddedOptions): Promise<JobStore> {
  await mkdir(options.folder, { recursive: true, mode: 0o700 });
  await refuseNetworkFolder(options.folder);
  let access: Promise<Access> = gainAccess(options);
  await access;
  let closed = false;
  return storeOfCalls(
    async (name, values) => {
      if (closed) throw new UnusableStoreError('The job store has been closed.');
      const before = access;
      const isGone = await before.then(
        (current) => current.isGone(),
        () => true,
      );
      if (isGone && access === before) access = gainAccess(options);
      const { store } = await access;
      return (store[name] as (...values: readonly unknown[]) => Promise<unknown>)(...values);
    },
    async () => {
      closed = true;
      await (await access.catch(() => null))?.close();
    },
  );
}

export function databaseFile(folder: string): string {
  return join(folder, 'store.sqlite');
}

async function gainAccess(options: EmbeddedOptions): Promise<Access> {
  const deadline = performance.now() + patienceMs;
  for (;;) {
    const access = (await own(options)) ?? (await visit(options.folder));
    if (access !== null) return access;
    if (performance.now() > deadline) {
      const { owner, pid } = await readOwner(options.folder);
      throw new UnusableStoreError(
        `The job store in ${options.folder} is in use by ${owner} (process ${pid}), which does not answer.`,
      );
    }
    await pause(40 + Math.random() * 60);
  }
}

/** Null when another process owns it. */
async function own(options: EmbeddedOptions): Promise<Access | null> {
  const { folder } = options;
  const file = databaseFile(folder);
  let database: SqliteDatabase;
  try {
    database = new SqliteDatabase(file);
  } catch (error) {
    if (error instanceof OwnedElsewhereError) return null;
    throw error;
  }
  try {
    await migrate(database, options.migrations, folder, async (version) =>
      database.copyTo(await freeName(`${file}.before-version-${options.migrations.length}-from-${version}`)),
    );
    const store = sqlJobStore(database, options.maxFailures);
    const socket = await socketPath(folder);
    const service = await serveOwned(store, socket);
    await writeOwner(folder, { owner: options.owner, pid: process.pid, socket });
    return {
      store,
      isGone: () => false,
      close: async () => {
        await service.close();
        await rm(ownerFile(folder), { force: true });
        if (dirname(socket) !== folder) await rm(dirname(socket), { recursive: true, force: true });
        await database.close();
      },
    };
  } catch (error) {
    await database.close();
    throw error;
  }
}

async function visit(folder: string): Promise<Access | null> {
  const { socket } = await readOwner(folder);
  const found = socket === null ? null : await visitOwner(socket);
  return found && { ...found, close: () => found.store.close() };
}

interface Owner {
  readonly owner: string;
  readonly pid: number;
  readonly socket: string | null;
}

function ownerFile(folder: string): string {
  return join(folder, 'owner.json');
}

/** For others only: what counts is the lock on the database file. */
async function writeOwner(folder: string, owner: Owner): Promise<void> {
  const incoming = `${ownerFile(folder)}.${process.pid}`;
  await writeFile(incoming, `${JSON.stringify(owner)}\n`, { mode: 0o600 });
  await rename(incoming, ownerFile(folder));
}

export async function readOwner(folder: string): Promise<Owner> {
  try {
    return JSON.parse(await readFile(ownerFile(folder), 'utf8'));
  } catch {
    return { owner: 'another program', pid: 0, socket: null };
  }
}

async function socketPath(folder: string): Promise<string> {
  const path = join(folder, 'owner.socket');
  if (Buffer.byteLength(path) <= longestSocketPath) return path;
  return join(await mkdtemp(join(tmpdir(), 'plateglass-')), 'owner.socket');
}

async function freeName(path: string): Promise<string> {
  for (let number = 1; ; number++) {
    const name = number === 1 ? path : `${path}-${number}`;
    const isFree = await stat(name).then(
      () => false,
      () => true,
    );
    if (isFree) return name;
  }
}
