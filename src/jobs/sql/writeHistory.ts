import type { Transaction } from './database.ts';

export interface HistoryLine {
  readonly jobId: number;
  readonly revision: number | null;
  readonly at: number;
  readonly who: string;
  readonly what: string;
  readonly detail?: Readonly<Record<string, unknown>>;
}

export async function writeHistory(transaction: Transaction, line: HistoryLine): Promise<void> {
  await transaction.change('INSERT INTO history (job_id, revision, at, who, what, detail) VALUES (?, ?, ?, ?, ?, ?)', [
    line.jobId,
    line.revision,
    line.at,
    line.who,
    line.what,
    JSON.stringify(line.detail ?? {}),
  ]);
}
