import type { ClaimWish, Effect, EffectClaim, NewEffect, Told } from '../jobTypes.ts';
import { marks, one, type Transaction } from './database.ts';
import type { ClockWatch } from './leases.ts';
import type { EffectRow, RevisionRow } from './rows.ts';
import { writeHistory } from './writeHistory.ts';

export async function addEffects(transaction: Transaction, effects: readonly NewEffect[]): Promise<number> {
  let added = 0;
  for (const { key, kind, payload, revisionId, told } of effects) {
    const isNew = await transaction.change(
      `INSERT INTO effects (effect_key, kind, payload, revision_id, created_at, state, claimable_from, attempt, failures)
        VALUES (?, ?, ?, ?, ?, 'waiting', 0, 0, 0) ON CONFLICT (effect_key) DO NOTHING`,
      [key, kind, JSON.stringify(payload ?? null), revisionId ?? null, await transaction.now()],
    );
    added += isNew;
    if (isNew === 1) await tell(transaction, revisionId ?? null, told ?? null);
  }
  return added;
}

/** Stands as the reason of an effect from the moment its hand began until it says how that went. */
const begun = 'begun';

/** Oldest first; one whose worker let its lease run out counts a failure and is given out again. */
export async function claimEffect(
  transaction: Transaction,
  clock: ClockWatch,
  wish: ClaimWish & { readonly kinds?: readonly string[] },
): Promise<EffectClaim | null> {
  const now = await clock.look(transaction);
  const kinds = wish.kinds ?? [];
  const row = await one<EffectRow>(
    transaction,
    `SELECT * FROM effects
      WHERE ((state = 'waiting' AND claimable_from <= ?) OR (state = 'working' AND lease_until < ?))
      ${kinds.length === 0 ? '' : `AND kind IN (${marks(kinds)})`} ORDER BY id LIMIT 1${transaction.skipLocked}`,
    [now, now, ...kinds],
  );
  if (row === null) return null;
  const attempt = row.attempt + 1;
  const failures = row.failures + (row.state === 'working' ? 1 : 0);
  const leaseUntil = now + wish.leaseMs;
  await transaction.change(
    `UPDATE effects SET state = 'working', attempt = ?, failures = ?, worker_id = ?, lease_ms = ?, lease_until = ?,
      reason = NULL WHERE id = ?`,
    [attempt, failures, wish.workerId, wish.leaseMs, leaseUntil, row.id],
  );
  return {
    effectId: row.id,
    attempt,
    workerId: wish.workerId,
    leaseUntil,
    failuresBefore: failures,
    begunBefore: row.state === 'working' && row.reason === begun,
    key: row.effect_key,
    kind: row.kind,
    payload: JSON.parse(row.payload),
    revisionId: row.revision_id,
  };
}

export async function effectBegun(transaction: Transaction, claim: EffectClaim): Promise<boolean> {
  const changed = await transaction.change(
    `UPDATE effects SET reason = ? WHERE id = ? AND attempt = ? AND worker_id = ? AND state = 'working'`,
    [begun, claim.effectId, claim.attempt, claim.workerId],
  );
  return changed === 1;
}

/** True also when this claim said so before. */
export async function effectDone(
  transaction: Transaction,
  claim: EffectClaim,
  told: Told | null,
  kept: unknown,
): Promise<boolean> {
  const changed = await transaction.change(
    `UPDATE effects SET state = 'done', done_at = ?, reason = NULL, lease_until = NULL, payload = ?
      WHERE id = ? AND attempt = ? AND worker_id = ? AND state = 'working'`,
    [
      await transaction.now(),
      JSON.stringify(kept ?? claim.payload ?? null),
      claim.effectId,
      claim.attempt,
      claim.workerId,
    ],
  );
  if (changed === 1) await tell(transaction, claim.revisionId, told);
  const done = await one(
    transaction,
    `SELECT id FROM effects WHERE id = ? AND attempt = ? AND worker_id = ? AND state = 'done'`,
    [claim.effectId, claim.attempt, claim.workerId],
  );
  return done !== null;
}

export async function effectFailed(
  transaction: Transaction,
  claim: EffectClaim,
  reason: string,
  retryAfterMs: number | null,
  told: Told | null,
): Promise<boolean> {
  const changed = await transaction.change(
    `UPDATE effects SET state = ?, failures = failures + 1, reason = ?, claimable_from = ?, lease_ms = ?,
      lease_until = NULL
      WHERE id = ? AND attempt = ? AND worker_id = ? AND state = 'working'`,
    [
      retryAfterMs === null ? 'setAside' : 'waiting',
      reason,
      (await transaction.now()) + (retryAfterMs ?? 0),
      retryAfterMs ?? 0,
      claim.effectId,
      claim.attempt,
      claim.workerId,
    ],
  );
  if (changed === 1) await tell(transaction, claim.revisionId, told);
  return changed === 1;
}

export async function effectsOf(transaction: Transaction, revisionId: number, kind: string): Promise<Effect[]> {
  const rows = await transaction.all<EffectRow>(
    'SELECT * FROM effects WHERE revision_id = ? AND kind = ? ORDER BY id',
    [revisionId, kind],
  );
  return rows.map((row) => ({
    effectId: row.id,
    key: row.effect_key,
    payload: JSON.parse(row.payload),
    state: row.state,
    reason: row.reason === begun ? null : row.reason,
    addedAt: row.created_at,
    doneAt: row.done_at,
  }));
}

async function tell(transaction: Transaction, revisionId: number | null, told: Told | null): Promise<void> {
  if (revisionId === null || told === null) return;
  const revision = await one<RevisionRow>(transaction, 'SELECT * FROM revisions WHERE id = ?', [revisionId]);
  if (revision === null) return;
  const at = await transaction.now();
  await writeHistory(transaction, { jobId: revision.job_id, revision: revision.revision, at, ...told });
}
