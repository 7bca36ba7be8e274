import type { Claim, SizeClass, WorkWish } from '../jobTypes.ts';
import { one, type Transaction } from './database.ts';
import { filesOfRevisions } from './filesOfRevisions.ts';
import { type ClockWatch, pauseAfterFailureMs } from './leases.ts';
import { type RevisionOfJobRow, type RevisionRow, revisionOfJob } from './rows.ts';
import { writeHistory } from './writeHistory.ts';

export async function claim(
  transaction: Transaction,
  clock: ClockWatch,
  wish: WorkWish,
  maxFailures: number,
): Promise<Claim | null> {
  const now = await clock.look(transaction);
  await takeBackExpired(transaction, now, maxFailures);
  let chosen = await choose(transaction, wish, now);
  if (chosen?.size_class === 'large') {
    // Others may take a large one at this instant: one after the other, each counting those before it.
    await transaction.lockLarge();
    chosen = await choose(transaction, wish, now);
  }
  if (chosen === null) return null;
  const attempt = chosen.attempt + 1;
  const leaseUntil = now + wish.leaseMs;
  await transaction.change(
    `UPDATE revisions SET state = 'working', attempt = ?, worker_id = ?, lease_ms = ?, lease_until = ?, claimed_at = ?
      WHERE id = ?`,
    [attempt, wish.workerId, wish.leaseMs, leaseUntil, now, chosen.id],
  );
  await transaction.change(
    'INSERT INTO tries (revision_id, attempt, worker_id, size_class, started_at) VALUES (?, ?, ?, ?, ?)',
    [chosen.id, attempt, wish.workerId, chosen.size_class, now],
  );
  await writeHistory(transaction, {
    jobId: chosen.job_id,
    revision: chosen.revision,
    at: now,
    who: wish.workerId,
    what: 'claimed',
    detail: { attempt },
  });
  const row = (await one<RevisionOfJobRow>(transaction, `${revisionOfJob} WHERE revisions.id = ?`, [chosen.id]))!;
  const { files, ticketFile } = (await filesOfRevisions(transaction, [chosen.id])).get(chosen.id)!;
  return {
    lease: { revisionId: row.id, attempt, workerId: wish.workerId },
    leaseUntil,
    failuresBefore: row.failures,
    jobId: row.job_id,
    jobName: row.job_name,
    customer: row.customer,
    revision: row.revision,
    source: { kind: row.source_kind, detail: row.source_detail },
    files,
    ticketFile,
    sizeClass: row.size_class,
    placeAt: row.place_at,
  };
}

/** The one whose turn it is; nobody else can choose it before the transaction ends. */
async function choose(transaction: Transaction, wish: WorkWish, now: number): Promise<RevisionRow | null> {
  const order = (await mayTakeLarge(transaction, wish.workerId))
    ? 'id'
    : "CASE size_class WHEN 'small' THEN 0 ELSE 1 END, id";
  const places = wish.placesUnder ?? null;
  const within =
    places === null ? '' : ` AND (place_at IS NULL${places.map((path) => ` OR ${beginsWith(path)}`).join('')})`;
  return one<RevisionRow>(
    transaction,
    `SELECT * FROM revisions WHERE state = 'waiting' AND claimable_from <= ?${within}
      ORDER BY ${order} LIMIT 1${transaction.skipLocked}`,
    [now, ...(places ?? [])],
  );
}

/** For a path that is given as a parameter; both databases count characters, not units of UTF-16. */
function beginsWith(path: string): string {
  return `substr(place_at, 1, ${[...path].length}) = ?`;
}

/**
 * Whether a large one is as good as a small one for this hand: while large ones take less than half of the hands at
 * work, this one counted, and when this hand's last was not large. So every second hand, and every second turn of a
 * hand alone, is for the small ones.
 */
async function mayTakeLarge(transaction: Transaction, workerId: string): Promise<boolean> {
  const working = await transaction.all<{ size_class: SizeClass; hands: number }>(
    `SELECT size_class, COUNT(*) AS hands FROM revisions WHERE state = 'working' GROUP BY size_class`,
  );
  const hands = working.reduce((sum, row) => sum + row.hands, 1);
  const withLarge = working.find((row) => row.size_class === 'large')?.hands ?? 0;
  if (withLarge * 2 >= hands) return false;
  const last = await one<{ size_class: SizeClass }>(
    transaction,
    'SELECT size_class FROM tries WHERE worker_id = ? ORDER BY started_at DESC, revision_id DESC LIMIT 1',
    [workerId],
  );
  return last?.size_class !== 'large';
}

/** A worker that let its lease run out has failed; it may have been killed by the very job. */
async function takeBackExpired(transaction: Transaction, now: number, maxFailures: number): Promise<void> {
  const expired = await transaction.all<RevisionRow>(
    `SELECT * FROM revisions WHERE state = 'working' AND lease_until < ? ORDER BY id${transaction.skipLocked}`,
    [now],
  );
  for (const row of expired) {
    await countFailure(transaction, {
      row,
      now,
      maxFailures,
      what: 'leaseRanOut',
      reason: `${row.worker_id} stopped answering while it worked on it`,
      pause: false,
    });
  }
}

export interface Failure {
  readonly row: RevisionRow;
  readonly now: number;
  readonly maxFailures: number;
  readonly what: 'failed' | 'leaseRanOut';
  readonly reason: string;
  /** Whether to wait before the next try. */
  readonly pause: boolean;
}

/** Back into the queue, or set aside after the last try. The row must be locked. */
export async function countFailure(
  transaction: Transaction,
  { row, now, maxFailures, what, reason, pause }: Failure,
): Promise<{ setAside: boolean; failures: number; notBefore: number }> {
  const failures = row.failures + 1;
  const setAside = failures >= maxFailures;
  const pauseMs = setAside || !pause ? 0 : pauseAfterFailureMs(failures);
  await transaction.change(
    `UPDATE revisions SET state = ?, failures = ?, reason = ?, claimable_from = ?, lease_ms = ?, finished_at = ?,
      lease_until = NULL WHERE id = ?`,
    [setAside ? 'setAside' : 'waiting', failures, reason, now + pauseMs, pauseMs, setAside ? now : null, row.id],
  );
  const line = { jobId: row.job_id, revision: row.revision, at: now, who: row.worker_id ?? 'queue' };
  await writeHistory(transaction, { ...line, what, detail: { attempt: row.attempt, failures, reason } });
  if (setAside) await writeHistory(transaction, { ...line, what: 'setAside', detail: { failures, reason } });
  return { setAside, failures, notBefore: now + pauseMs };
}
