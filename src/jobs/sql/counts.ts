import { effectStates, revisionStates, type StoreCounts } from '../jobTypes.ts';
import { one, type Transaction } from './database.ts';

export async function counts(transaction: Transaction): Promise<StoreCounts> {
  const now = await transaction.now();
  const totals = (await one<{ jobs: number; moves: number; oldest: number | null; worked: number; ms: number }>(
    transaction,
    `SELECT (SELECT COUNT(*) FROM jobs) AS jobs,
      (SELECT COUNT(*) FROM revisions WHERE moving_to IS NOT NULL) AS moves,
      (SELECT MIN(taken_in_at) FROM revisions WHERE state = 'waiting') AS oldest,
      (SELECT COUNT(*) FROM revisions WHERE worked_ms IS NOT NULL) AS worked,
      (SELECT COALESCE(SUM(worked_ms), 0) FROM revisions) AS ms`,
  ))!;
  return {
    revisions: await byState(transaction, 'revisions', revisionStates),
    effects: await byState(transaction, 'effects', effectStates),
    openEffects: Object.fromEntries(
      (
        await transaction.all<{ kind: string; count: number }>(
          `SELECT kind, COUNT(*) AS count FROM effects WHERE state IN ('waiting', 'working') GROUP BY kind`,
        )
      ).map(({ kind, count }) => [kind, count]),
    ),
    pendingMoves: totals.moves,
    jobs: totals.jobs,
    oldestWaitingMs: totals.oldest === null ? null : Math.max(0, now - totals.oldest),
    worked: { count: totals.worked, totalMs: totals.ms },
    now,
  };
}

async function byState<State extends string>(
  transaction: Transaction,
  table: 'revisions' | 'effects',
  states: readonly State[],
): Promise<Record<State, number>> {
  const rows = await transaction.all<{ state: State; count: number }>(
    `SELECT state, COUNT(*) AS count FROM ${table} GROUP BY state`,
  );
  const found = Object.fromEntries(states.map((state) => [state, 0])) as Record<State, number>;
  for (const { state, count } of rows) found[state] = count;
  return found;
}
