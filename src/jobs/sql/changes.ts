import type { Change } from '../jobTypes.ts';
import type { Transaction } from './database.ts';

const mostAtOnce = 1_000;

export async function changesAfter(transaction: Transaction, id: number | null): Promise<Change[]> {
  const rows = await transaction.all<{ id: number; job_id: number; what: string }>(
    id === null
      ? 'SELECT id, job_id, what FROM history ORDER BY id DESC LIMIT 1'
      : `SELECT id, job_id, what FROM history WHERE id > ? ORDER BY id LIMIT ${mostAtOnce}`,
    id === null ? [] : [id],
  );
  return rows.map((row) => ({ id: row.id, jobId: row.job_id, what: row.what }));
}
