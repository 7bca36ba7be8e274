import { foldText } from '../foldText.ts';
import type { Failed, Finished, Lease, WorkResult } from '../jobTypes.ts';
import { countFailure } from './claim.ts';
import { marks, one, type Transaction } from './database.ts';
import { addEffects } from './effects.ts';
import { beginMove, pendingMoveOf } from './moves.ts';
import type { RevisionRow } from './rows.ts';
import { writeHistory } from './writeHistory.ts';

/** The revision while this lease is the one that counts, locked; else null. */
async function underLease(transaction: Transaction, lease: Lease): Promise<RevisionRow | null> {
  return one<RevisionRow>(
    transaction,
    `SELECT * FROM revisions WHERE id = ? AND attempt = ? AND worker_id = ? AND state = 'working'${transaction.forUpdate}`,
    [lease.revisionId, lease.attempt, lease.workerId],
  );
}

export async function renew(transaction: Transaction, lease: Lease, leaseMs: number): Promise<number | null> {
  if ((await underLease(transaction, lease)) === null) return null;
  const leaseUntil = (await transaction.now()) + leaseMs;
  await transaction.change('UPDATE revisions SET lease_ms = ?, lease_until = ? WHERE id = ?', [
    leaseMs,
    leaseUntil,
    lease.revisionId,
  ]);
  return leaseUntil;
}

/** Result, history, move and effects at once, or nothing of it. */
export async function finish(transaction: Transaction, lease: Lease, result: WorkResult): Promise<Finished> {
  const row = await underLease(transaction, lease);
  if (row === null) return finishedBefore(transaction, lease);
  const now = await transaction.now();
  const state = result.verdict === 'couldNotRun' ? 'couldNotRun' : 'checked';
  await transaction.change(
    `UPDATE revisions SET state = ?, verdict = ?, reason = ?, finished_at = ?, worked_ms = ?, timings = ?,
      lease_until = NULL WHERE id = ?`,
    [
      state,
      result.verdict,
      result.reason,
      now,
      Math.max(0, now - (row.claimed_at ?? now)),
      JSON.stringify(result.timings),
      row.id,
    ],
  );
  await replaceArtifacts(transaction, row.id, result);
  await replaceInks(transaction, row.id, result.inkNames);
  await writeHistory(transaction, {
    jobId: row.job_id,
    revision: row.revision,
    at: now,
    who: lease.workerId,
    what: state,
    detail: { attempt: row.attempt, verdict: result.verdict, reason: result.reason },
  });
  await addEffects(
    transaction,
    (result.effects ?? []).map((effect) => ({ revisionId: row.id, ...effect })),
  );
  if (result.moveTo === undefined) return { accepted: true, move: null };
  const { folder, leaseMs } = result.moveTo;
  return { accepted: true, move: await beginMove(transaction, row.id, folder, { workerId: lease.workerId, leaseMs }) };
}

/** The answer to a first call may have been lost on the way. */
async function finishedBefore(transaction: Transaction, lease: Lease): Promise<Finished> {
  const row = await one<RevisionRow>(
    transaction,
    `SELECT * FROM revisions WHERE id = ? AND attempt = ? AND worker_id = ? AND state IN ('checked', 'couldNotRun')`,
    [lease.revisionId, lease.attempt, lease.workerId],
  );
  if (row === null) return { accepted: false };
  return {
    accepted: true,
    move: row.move_worker_id === lease.workerId ? await pendingMoveOf(transaction, row.id) : null,
  };
}

export async function handBack(transaction: Transaction, lease: Lease, reason: string): Promise<boolean> {
  const row = await underLease(transaction, lease);
  if (row === null) return false;
  await putBack(transaction, row, reason);
  return true;
}

export async function handBackAllOf(
  transaction: Transaction,
  workerIds: readonly string[],
  reason: string,
): Promise<number> {
  if (workerIds.length === 0) return 0;
  const rows = await transaction.all<RevisionRow>(
    `SELECT * FROM revisions WHERE state = 'working' AND worker_id IN (${marks(workerIds)})
      ORDER BY id${transaction.forUpdate}`,
    workerIds,
  );
  for (const row of rows) await putBack(transaction, row, reason);
  return rows.length;
}

async function putBack(transaction: Transaction, row: RevisionRow, reason: string): Promise<void> {
  await transaction.change(
    `UPDATE revisions SET state = 'waiting', claimable_from = 0, lease_until = NULL WHERE id = ?`,
    [row.id],
  );
  await writeHistory(transaction, {
    jobId: row.job_id,
    revision: row.revision,
    at: await transaction.now(),
    who: row.worker_id ?? 'queue',
    what: 'handedBack',
    detail: { attempt: row.attempt, reason },
  });
}

export async function fail(
  transaction: Transaction,
  lease: Lease,
  reason: string,
  maxFailures: number,
): Promise<Failed> {
  const row = await underLease(transaction, lease);
  if (row === null) return { outcome: 'lost' };
  const now = await transaction.now();
  const counted = await countFailure(transaction, { row, now, maxFailures, what: 'failed', reason, pause: true });
  const { failures, notBefore } = counted;
  return counted.setAside ? { outcome: 'setAside', failures } : { outcome: 'waitingAgain', notBefore, failures };
}

export async function tryAgain(transaction: Transaction, revisionId: number, by: string): Promise<boolean> {
  const row = await one<RevisionRow>(
    transaction,
    `SELECT * FROM revisions WHERE id = ? AND state IN ('checked', 'couldNotRun', 'setAside')${transaction.forUpdate}`,
    [revisionId],
  );
  if (row === null) return false;
  await transaction.change(
    `UPDATE revisions SET state = 'waiting', claimable_from = 0, failures = 0, verdict = NULL, reason = NULL,
      finished_at = NULL WHERE id = ?`,
    [revisionId],
  );
  await writeHistory(transaction, {
    jobId: row.job_id,
    revision: row.revision,
    at: await transaction.now(),
    who: by,
    what: 'triedAgain',
    detail: { before: row.state, verdict: row.verdict, reason: row.reason },
  });
  return true;
}

async function replaceArtifacts(transaction: Transaction, revisionId: number, result: WorkResult): Promise<void> {
  await transaction.change('DELETE FROM artifacts WHERE revision_id = ?', [revisionId]);
  for (const [position, { kind, name, sha256, sizeBytes }] of result.artifacts.entries()) {
    await transaction.change(
      'INSERT INTO artifacts (revision_id, position, kind, name, sha256, size_bytes) VALUES (?, ?, ?, ?, ?, ?)',
      [revisionId, position, kind, name, sha256, sizeBytes],
    );
  }
}

async function replaceInks(transaction: Transaction, revisionId: number, names: readonly string[]): Promise<void> {
  await transaction.change('DELETE FROM revision_inks WHERE revision_id = ?', [revisionId]);
  for (const [position, name] of names.entries()) {
    await transaction.change(
      'INSERT INTO revision_inks (revision_id, position, name, name_folded) VALUES (?, ?, ?, ?)',
      [revisionId, position, name, foldText(name)],
    );
  }
}
