import { type Answered, asCustomer, type CustomerAnswer, type NewCustomerAnswer } from '../customerTypes.ts';
import { StoreRequestError } from '../storeErrors.ts';
import { marks, one, type Transaction } from './database.ts';
import type { RevisionRow } from './rows.ts';
import { writeHistory } from './writeHistory.ts';

interface AnswerRow {
  readonly id: number;
  readonly revision_id: number;
  readonly link_id: number;
  readonly kind: CustomerAnswer['kind'];
  readonly content_key: string;
  readonly name: string;
  readonly remark: string;
  readonly at: number;
}

/** What a customer answers to the latest revision. The last answer counts; those before are kept. */
export async function answerAsCustomer(transaction: Transaction, answer: NewCustomerAnswer): Promise<Answered> {
  const { linkId, revisionId, contentKey, kind, name, remark } = answer;
  if (name.trim() === '') throw new StoreRequestError('An answer needs the name of the one who gives it.');
  const now = await transaction.now();
  const link = await one<{ job_id: number }>(
    transaction,
    'SELECT job_id FROM customer_links WHERE id = ? AND revoked_at IS NULL AND expires_at > ?',
    [linkId, now],
  );
  if (link === null) return { outcome: 'closed' };
  // Whoever adds a revision holds the job's row too.
  const job = await one<{ latest_revision: number }>(
    transaction,
    `SELECT latest_revision FROM jobs WHERE id = ?${transaction.forUpdate}`,
    [link.job_id],
  );
  const revision = await one<RevisionRow>(
    transaction,
    `SELECT * FROM revisions WHERE id = ? AND job_id = ?${transaction.forUpdate}`,
    [revisionId, link.job_id],
  );
  if (revision === null || revision.revision !== job!.latest_revision || revision.content_key !== contentKey)
    return { outcome: 'superseded' };
  if (revision.state !== 'checked') return { outcome: 'notChecked' };
  const last = (await customerAnswersOf(transaction, [revisionId])).get(revisionId)!.at(-1);
  if (last?.kind === kind && (kind === 'approved' || (last.name === name && last.remark === remark)))
    return { outcome: 'sameAsBefore' };
  const row = await one<{ id: number }>(
    transaction,
    `INSERT INTO customer_answers (revision_id, link_id, kind, content_key, name, remark, at)
      VALUES (?, ?, ?, ?, ?, ?, ?) RETURNING id`,
    [revisionId, linkId, kind, contentKey, name, remark, now],
  );
  await transaction.change('UPDATE revisions SET customer_answer = ? WHERE id = ?', [kind, revisionId]);
  await writeHistory(transaction, {
    jobId: link.job_id,
    revision: revision.revision,
    at: now,
    who: asCustomer(name),
    what: kind === 'approved' ? 'customerApproved' : 'customerDeclined',
    detail: { answerId: row!.id, linkId, reason: remark, contentKey, ...(last && { inPlaceOf: last.id }) },
  });
  return { outcome: 'taken', answer: { ...answer, id: row!.id, at: now } };
}

/** Of each revision all answers, oldest first. */
export async function customerAnswersOf(
  transaction: Transaction,
  revisionIds: readonly number[],
): Promise<Map<number, CustomerAnswer[]>> {
  const found = new Map<number, CustomerAnswer[]>(revisionIds.map((id) => [id, []]));
  if (revisionIds.length === 0) return found;
  const rows = await transaction.all<AnswerRow>(
    `SELECT * FROM customer_answers WHERE revision_id IN (${marks(revisionIds)}) ORDER BY id`,
    revisionIds,
  );
  for (const { id, revision_id, link_id, kind, content_key, name, remark, at } of rows)
    found
      .get(revision_id)!
      .push({ id, revisionId: revision_id, linkId: link_id, kind, contentKey: content_key, name, remark, at });
  return found;
}
