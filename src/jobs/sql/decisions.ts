import { type Decision, findingDecisionKinds, type NewDecision } from '../jobTypes.ts';
import { StoreRequestError } from '../storeErrors.ts';
import { marks, one, type Transaction } from './database.ts';
import type { RevisionRow } from './rows.ts';
import { writeHistory } from './writeHistory.ts';

interface DecisionRow {
  readonly id: number;
  readonly revision_id: number;
  readonly kind: NewDecision['kind'];
  readonly decided_by: string;
  readonly reason: string;
  readonly finding: string | null;
  readonly at: number;
  readonly undone_at: number | null;
  readonly undone_by: string | null;
  readonly undone_reason: string | null;
}

const inHistory = {
  release: 'released',
  hold: 'putOnHold',
  askCustomer: 'customerAsked',
  acceptFinding: 'findingAccepted',
  doOurselves: 'takenOn',
} as const;
const ofFindings: ReadonlySet<string> = new Set(findingDecisionKinds);

export async function decide(transaction: Transaction, decision: NewDecision): Promise<Decision> {
  const { revisionId, kind, by, reason, finding } = decision;
  if (by.trim() === '') throw new StoreRequestError('A decision needs the name of the one who takes it.');
  if (ofFindings.has(kind) && (finding === undefined || reason.trim() === '')) {
    throw new StoreRequestError('To settle a finding, say which one, and why.');
  }
  const revision = await lockRevision(transaction, revisionId);
  const now = await transaction.now();
  const row = await one<{ id: number }>(
    transaction,
    'INSERT INTO decisions (revision_id, kind, decided_by, reason, finding, at) VALUES (?, ?, ?, ?, ?, ?) RETURNING id',
    [revisionId, kind, by, reason, finding === undefined ? null : JSON.stringify(finding), now],
  );
  await renewStanding(transaction, revisionId);
  await writeHistory(transaction, {
    jobId: revision.job_id,
    revision: revision.revision,
    at: now,
    who: by,
    what: inHistory[kind],
    detail: { decisionId: row!.id, reason, ...(finding && { finding }) },
  });
  return { ...decision, id: row!.id, at: now, undone: null };
}

export async function undoDecision(
  transaction: Transaction,
  decisionId: number,
  by: string,
  reason: string,
): Promise<boolean> {
  const found = await one<DecisionRow>(transaction, 'SELECT * FROM decisions WHERE id = ?', [decisionId]);
  if (found === null) throw new StoreRequestError(`There is no decision ${decisionId}.`);
  const revision = await lockRevision(transaction, found.revision_id);
  const now = await transaction.now();
  const changed = await transaction.change(
    'UPDATE decisions SET undone_at = ?, undone_by = ?, undone_reason = ? WHERE id = ? AND undone_at IS NULL',
    [now, by, reason, decisionId],
  );
  if (changed === 0) return false;
  await renewStanding(transaction, found.revision_id);
  await writeHistory(transaction, {
    jobId: revision.job_id,
    revision: revision.revision,
    at: now,
    who: by,
    what: 'decisionUndone',
    detail: { decisionId, was: inHistory[found.kind], reason },
  });
  return true;
}

export async function decisionsOf(
  transaction: Transaction,
  revisionIds: readonly number[],
): Promise<Map<number, Decision[]>> {
  const found = new Map<number, Decision[]>(revisionIds.map((id) => [id, []]));
  if (revisionIds.length === 0) return found;
  const rows = await transaction.all<DecisionRow>(
    `SELECT * FROM decisions WHERE revision_id IN (${marks(revisionIds)}) ORDER BY id`,
    revisionIds,
  );
  for (const row of rows) {
    found.get(row.revision_id)!.push({
      id: row.id,
      revisionId: row.revision_id,
      kind: row.kind,
      by: row.decided_by,
      reason: row.reason,
      ...(row.finding !== null && { finding: JSON.parse(row.finding) }),
      at: row.at,
      undone:
        row.undone_at === null ? null : { at: row.undone_at, by: row.undone_by ?? '', reason: row.undone_reason ?? '' },
    });
  }
  return found;
}

async function lockRevision(transaction: Transaction, revisionId: number): Promise<RevisionRow> {
  const row = await one<RevisionRow>(transaction, `SELECT * FROM revisions WHERE id = ?${transaction.forUpdate}`, [
    revisionId,
  ]);
  if (row === null) throw new StoreRequestError(`There is no revision ${revisionId}.`);
  return row;
}

/** The latest decision of the revision itself that has not been undone says how the revision stands. */
async function renewStanding(transaction: Transaction, revisionId: number): Promise<void> {
  const last = await one<DecisionRow>(
    transaction,
    `SELECT * FROM decisions WHERE revision_id = ? AND kind NOT IN (${marks(findingDecisionKinds)}) AND undone_at IS NULL
      ORDER BY id DESC LIMIT 1`,
    [revisionId, ...findingDecisionKinds],
  );
  const standing = last === null ? null : last.kind === 'release' ? 'released' : 'onHold';
  await transaction.change('UPDATE revisions SET standing = ? WHERE id = ?', [standing, revisionId]);
}
