export type SqlValue = string | number | null;

/** One transaction. The SQL is common to both databases; parameters are written "?". */
export interface Transaction {
  all<Row extends object>(sql: string, values?: readonly SqlValue[]): Promise<Row[]>;
  /** How many rows were changed. */
  change(sql: string, values?: readonly SqlValue[]): Promise<number>;
  /** The clock of the database, ms since 1970; runs on within the transaction. */
  now(): Promise<number>;
  /** Put behind a SELECT: nobody else changes these rows before the transaction ends. */
  readonly forUpdate: string;
  /** The same, and rows held by others are left out. */
  readonly skipLocked: string;
  /** Nobody else is in a transaction that has called this. */
  lockStore(): Promise<void>;
  /** The same among those that are about to take a large job. */
  lockLarge(): Promise<void>;
  /** Names of the tables there are. */
  tableNames(): Promise<string[]>;
}

/** A database of the store: SQLite owned by this process, or PostgreSQL. */
export interface Database {
  /** What is read is as of one instant. */
  read<Result>(work: (transaction: Transaction) => Promise<Result>): Promise<Result>;
  /** Lasting when kept; nothing of it has happened when `work` throws. May call `work` again after a clash. */
  write<Result>(work: (transaction: Transaction) => Promise<Result>): Promise<Result>;
  /** Like `read`, for a long look at everything that must not keep others waiting. */
  snapshot<Result>(work: (transaction: Transaction) => Promise<Result>): Promise<Result>;
  /** Column type of an id that the database gives out itself. */
  readonly idColumn: string;
  /** After rows with ids of their own were put in: go on behind them. */
  continueIds(transaction: Transaction, tables: readonly string[]): Promise<void>;
  close(): Promise<void>;
}

/** The one row of a query that gives one. */
export async function one<Row extends object>(
  transaction: Transaction,
  sql: string,
  values: readonly SqlValue[] = [],
): Promise<Row | null> {
  return (await transaction.all<Row>(sql, values))[0] ?? null;
}

/** "?, ?, ?" */
export function marks(values: readonly unknown[]): string {
  return values.map(() => '?').join(', ');
}
