import { rm } from 'node:fs/promises';
import { setImmediate as letOthers } from 'node:timers/promises';
import Libsql from 'libsql';
import { StoreUnreachableError, UnusableStoreError } from '../storeErrors.ts';
import type { Database, SqlValue, Transaction } from './database.ts';

/** The database file belongs to another process now. */
export class OwnedElsewhereError extends Error {
  override readonly name = 'OwnedElsewhereError';
}

/**
 * An SQLite file that this process owns: one connection, which holds the file's lock until it is closed or the process
 * ends, however it ends. No second connection means that nobody writes while the log is put back into the file. Nothing
 * else in this process may open the file: closing it again would give up the lock.
 *
 * The file is kept with a write-ahead log from the first write on and without one while nobody owns it; so a store that
 * is refused is not touched. The package closes a connection only when its statements have been collected as garbage,
 * so the lock is given up by leaving the log first.
 */
export class SqliteDatabase implements Database {
  readonly idColumn = 'INTEGER PRIMARY KEY AUTOINCREMENT';
  readonly #file: string;
  #connection: Libsql.Database | null = null;
  #queue: Promise<unknown> = Promise.resolve();
  readonly #statements = new Map<string, Libsql.Statement>();
  #snapshots = 0;
  #hasLog = false;
  #closed = false;

  constructor(file: string) {
    this.#file = file;
    this.#connect();
  }

  read<Result>(work: (transaction: Transaction) => Promise<Result>): Promise<Result> {
    return this.#inTurn('BEGIN', work);
  }

  write<Result>(work: (transaction: Transaction) => Promise<Result>): Promise<Result> {
    return this.#inTurn('BEGIN IMMEDIATE', work, () => this.#keepLog());
  }

  async snapshot<Result>(work: (transaction: Transaction) => Promise<Result>): Promise<Result> {
    const copy = `${this.#file}.snapshot-${process.pid}-${++this.#snapshots}`;
    await rm(copy, { force: true });
    try {
      await this.copyTo(copy);
      const database = new SqliteDatabase(copy);
      try {
        return await database.read(work);
      } finally {
        await database.close();
      }
    } finally {
      for (const end of ['', '-wal', '-shm']) await rm(`${copy}${end}`, { force: true });
    }
  }

  /** A complete copy as of one instant, in a file that must not exist. */
  copyTo(file: string): Promise<void> {
    return this.#afterOthers(async () => {
      this.#attempt(() => this.#open().prepare('VACUUM INTO ?').run(file));
    });
  }

  async continueIds(): Promise<void> {
    // AUTOINCREMENT goes on behind the largest id that was put in.
  }

  close(): Promise<void> {
    return this.#afterOthers(async () => {
      this.#closed = true;
      this.#disconnect();
    });
  }

  #inTurn<Result>(
    begin: string,
    work: (transaction: Transaction) => Promise<Result>,
    before: () => void = () => undefined,
  ): Promise<Result> {
    return this.#afterOthers(async () => {
      this.#attempt(() => {
        const connection = this.#open();
        before();
        connection.exec(begin);
      });
      try {
        const result = await work(this.#transaction());
        this.#attempt(() => this.#open().exec('COMMIT'));
        return result;
      } catch (error) {
        if (this.#connection?.inTransaction) this.#attempt(() => this.#open().exec('ROLLBACK'));
        throw error;
      }
    });
  }

  #afterOthers<Result>(work: () => Promise<Result>): Promise<Result> {
    const turn = this.#queue.then(work);
    // Calls of this database never wait for anything, so many in a row would let nobody else have a turn.
    this.#queue = turn.then(
      () => letOthers(),
      () => letOthers(),
    );
    return turn;
  }

  #transaction(): Transaction {
    return {
      forUpdate: '',
      skipLocked: '',
      all: async <Row extends object>(sql: string, values: readonly SqlValue[] = []) =>
        this.#attempt(() => this.#prepare(sql).all([...values]) as Row[]),
      change: async (sql, values = []) => this.#attempt(() => this.#prepare(sql).run([...values]).changes),
      now: async () =>
        this.#attempt(
          () => (this.#prepare("SELECT CAST(unixepoch('subsec') * 1000 AS INTEGER) AS now").all()[0] as Clock).now,
        ),
      lockStore: async () => undefined,
      lockLarge: async () => undefined,
      tableNames: async () =>
        this.#attempt(() =>
          (
            this.#prepare("SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite%'").all() as {
              name: string;
            }[]
          ).map(({ name }) => name),
        ),
    };
  }

  #prepare(sql: string): Libsql.Statement {
    let statement = this.#statements.get(sql);
    if (statement === undefined) {
      if (this.#statements.size > 300) this.#statements.clear();
      statement = this.#open().prepare(sql) as Libsql.Statement;
      this.#statements.set(sql, statement);
    }
    return statement;
  }

  #open(): Libsql.Database {
    if (this.#closed) throw new StoreUnreachableError(`The job store ${this.#file} has been closed.`);
    if (this.#connection === null) this.#connect();
    return this.#connection!;
  }

  #connect(): void {
    this.#attempt(() => {
      const connection = new Libsql(this.#file);
      try {
        connection.pragma('busy_timeout = 0');
        connection.pragma('locking_mode = EXCLUSIVE');
        connection.exec('BEGIN EXCLUSIVE');
        connection.exec('COMMIT');
        connection.pragma('synchronous = FULL');
        connection.pragma('foreign_keys = ON');
        const answer = connection.prepare('PRAGMA quick_check(1)').all() as { quick_check: string }[];
        if (answer[0]?.quick_check !== 'ok') throw damaged(this.#file, answer[0]?.quick_check ?? 'no answer');
      } catch (error) {
        release(connection);
        throw error;
      }
      this.#connection = connection;
      this.#hasLog = false;
    });
  }

  #keepLog(): void {
    if (this.#hasLog) return;
    this.#connection!.pragma('journal_mode = WAL');
    this.#hasLog = true;
  }

  #disconnect(): void {
    this.#statements.clear();
    if (this.#connection !== null) release(this.#connection);
    this.#connection = null;
  }

  /** Runs a call of the database and says in words what went wrong. */
  #attempt<Result>(call: () => Result): Result {
    try {
      return call();
    } catch (error) {
      const { code, message } = error as { code?: unknown; message: string };
      if (code === '' && message.startsWith('ConnectionFailed'))
        throw new UnusableStoreError(`The job store ${this.#file} cannot be opened (${message}).`);
      if (typeof code !== 'string' || !code.startsWith('SQLITE_')) throw error;
      if (code.startsWith('SQLITE_BUSY')) throw new OwnedElsewhereError(`${this.#file} is in use by another process.`);
      if (code.startsWith('SQLITE_CORRUPT') || code === 'SQLITE_NOTADB') throw damaged(this.#file, message);
      if (code === 'SQLITE_FULL')
        throw new UnusableStoreError(`The disk that holds ${this.#file} is full. Nothing was recorded; make room.`);
      if (code.startsWith('SQLITE_READONLY') || code === 'SQLITE_CANTOPEN')
        throw new UnusableStoreError(`The job store ${this.#file} cannot be written (${message}).`);
      if (code.startsWith('SQLITE_IOERR')) {
        // What the system holds of the file is not to be trusted after a failed write or sync: begin anew.
        this.#disconnect();
        throw new StoreUnreachableError(`The disk that holds ${this.#file} reported an error (${message}).`);
      }
      throw error;
    }
  }
}

/** Gives up the lock, as far as the disk lets it. */
function release(connection: Libsql.Database): void {
  for (const statement of [
    'PRAGMA journal_mode = DELETE',
    'PRAGMA locking_mode = NORMAL',
    'SELECT COUNT(*) FROM sqlite_master',
  ]) {
    try {
      connection.prepare(statement).all();
    } catch {
      // The next one may still succeed.
    }
  }
  connection.close();
}

interface Clock {
  readonly now: number;
}

function damaged(file: string, message: string): UnusableStoreError {
  return new UnusableStoreError(
    `The job store ${file} is damaged (${message.replace(/\s+/g, ' ')}). Nothing was changed. Move the file away and restore a backup with: plateglass jobs restore`,
  );
}
