import type { ClaimWish, PendingMove } from '../jobTypes.ts';
import { one, type Transaction } from './database.ts';
import type { ClockWatch } from './leases.ts';
import { type RevisionOfJobRow, type RevisionRow, revisionOfJob } from './rows.ts';
import { writeHistory } from './writeHistory.ts';

export async function planMove(
  transaction: Transaction,
  revisionId: number,
  to: string,
  wish: ClaimWish,
): Promise<PendingMove | null> {
  const row = await one<RevisionRow>(
    transaction,
    `SELECT * FROM revisions WHERE id = ? AND moving_to IS NULL${transaction.forUpdate}`,
    [revisionId],
  );
  return row === null ? null : beginMove(transaction, revisionId, to, wish);
}

/** The revision must be locked. A move that is pending already goes to the new place instead. */
export async function beginMove(
  transaction: Transaction,
  revisionId: number,
  to: string,
  wish: ClaimWish,
): Promise<PendingMove> {
  await transaction.change('UPDATE revisions SET moving_to = ? WHERE id = ?', [to, revisionId]);
  return holdMove(transaction, revisionId, wish);
}

async function holdMove(transaction: Transaction, revisionId: number, wish: ClaimWish): Promise<PendingMove> {
  await transaction.change(
    `UPDATE revisions SET move_attempt = move_attempt + 1, move_worker_id = ?, move_lease_ms = ?, move_lease_until = ?
      WHERE id = ?`,
    [wish.workerId, wish.leaseMs, (await transaction.now()) + wish.leaseMs, revisionId],
  );
  return (await pendingMoveOf(transaction, revisionId))!;
}

export async function pendingMoveOf(transaction: Transaction, revisionId: number): Promise<PendingMove | null> {
  const row = await one<RevisionOfJobRow>(
    transaction,
    `${revisionOfJob} WHERE revisions.id = ? AND revisions.moving_to IS NOT NULL`,
    [revisionId],
  );
  if (row === null) return null;
  return {
    revisionId,
    jobId: row.job_id,
    jobName: row.job_name,
    revision: row.revision,
    from: row.place_at,
    to: row.moving_to!,
    attempt: row.move_attempt,
    workerId: row.move_worker_id!,
    leaseUntil: row.move_lease_until!,
  };
}

export async function claimMove(
  transaction: Transaction,
  clock: ClockWatch,
  wish: ClaimWish & { readonly revisionId?: number },
): Promise<PendingMove | null> {
  const now = await clock.look(transaction);
  const row = await one<RevisionRow>(
    transaction,
    `SELECT * FROM revisions WHERE moving_to IS NOT NULL AND (move_lease_until < ? OR move_worker_id = ?)
      ${wish.revisionId === undefined ? '' : 'AND id = ?'} ORDER BY id LIMIT 1${transaction.skipLocked}`,
    [now, wish.workerId, ...(wish.revisionId === undefined ? [] : [wish.revisionId])],
  );
  return row === null ? null : holdMove(transaction, row.id, wish);
}

export async function endMove(
  transaction: Transaction,
  move: PendingMove,
  outcome: 'done' | 'undone',
): Promise<boolean> {
  const row = await one<RevisionRow>(
    transaction,
    `SELECT * FROM revisions WHERE id = ? AND move_attempt = ? AND move_worker_id = ?${transaction.forUpdate}`,
    [move.revisionId, move.attempt, move.workerId],
  );
  if (row === null) return false;
  // Ended before by the same hand, whose answer got lost.
  if (row.moving_to === null) return true;
  await transaction.change(
    'UPDATE revisions SET moving_to = NULL, move_lease_ms = NULL, move_lease_until = NULL WHERE id = ?',
    [row.id],
  );
  if (outcome === 'done') await pointToNewPlace(transaction, row, row.moving_to);
  await writeHistory(transaction, {
    jobId: row.job_id,
    revision: row.revision,
    at: await transaction.now(),
    who: move.workerId,
    what: outcome === 'done' ? 'moved' : 'moveUndone',
    detail: { from: row.place_at, to: row.moving_to },
  });
  return true;
}

/** Other revisions of the job may refer to the same originals (a ticket that came late): they follow. */
async function pointToNewPlace(transaction: Transaction, row: RevisionRow, to: string): Promise<void> {
  if (row.place_at === null) {
    await transaction.change('UPDATE revisions SET place_at = ? WHERE id = ?', [to, row.id]);
    return;
  }
  const folder = `${row.place_at}/`;
  await transaction.change('UPDATE revisions SET place_at = ? WHERE job_id = ? AND place_at = ?', [
    to,
    row.job_id,
    row.place_at,
  ]);
  await transaction.change(
    `UPDATE files SET stored_path = CAST(? AS TEXT) || substr(stored_path, length(CAST(? AS TEXT)) + 1)
      WHERE revision_id IN (SELECT id FROM revisions WHERE job_id = ?)
      AND substr(stored_path, 1, length(CAST(? AS TEXT))) = ?`,
    [`${to}/`, folder, row.job_id, folder, folder],
  );
}
