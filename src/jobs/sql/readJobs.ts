import type { Artifact, HistoryEntry, Job, Revision, RevisionSummary } from '../jobTypes.ts';
import { customerAnswersOf } from './customerAnswers.ts';
import { marks, one, type Transaction } from './database.ts';
import { decisionsOf } from './decisions.ts';
import { filesOfRevisions } from './filesOfRevisions.ts';
import { type JobRow, type RevisionOfJobRow, revisionOfJob } from './rows.ts';

export async function job(transaction: Transaction, nameOrId: string | number): Promise<Job | null> {
  const row =
    typeof nameOrId === 'number'
      ? await one<JobRow>(transaction, 'SELECT * FROM jobs WHERE id = ?', [nameOrId])
      : await one<JobRow>(transaction, 'SELECT * FROM jobs WHERE name = ?', [nameOrId.normalize('NFC')]);
  if (row === null) return null;
  const revisions = await transaction.all<RevisionOfJobRow>(
    `${revisionOfJob} WHERE revisions.job_id = ? ORDER BY revisions.revision`,
    [row.id],
  );
  return {
    jobId: row.id,
    jobName: row.name,
    customer: row.customer,
    revisions: await inFull(transaction, revisions),
    history: await historyOf(transaction, row.id),
  };
}

export async function revision(transaction: Transaction, revisionId: number): Promise<Revision | null> {
  const row = await one<RevisionOfJobRow>(transaction, `${revisionOfJob} WHERE revisions.id = ?`, [revisionId]);
  return row === null ? null : (await inFull(transaction, [row]))[0];
}

/** What lists show of each of these rows, in their order. */
export async function summaries(
  transaction: Transaction,
  rows: readonly RevisionOfJobRow[],
): Promise<RevisionSummary[]> {
  const inks = await byRevision<{ revision_id: number; name: string }>(transaction, 'revision_inks', rows);
  return rows.map((row) => ({
    jobId: row.job_id,
    jobName: row.job_name,
    customer: row.customer,
    revisionId: row.id,
    revision: row.revision,
    isLatest: row.revision === row.latest_revision,
    state: row.state,
    verdict: row.verdict,
    standing: row.standing,
    customerAnswer: row.customer_answer,
    reason: row.reason,
    inkNames: inks.get(row.id)!.map(({ name }) => name),
    sizeBytes: row.size_bytes,
    arrivedAt: row.arrived_at,
    takenInAt: row.taken_in_at,
    finishedAt: row.finished_at,
  }));
}

interface ArtifactRow {
  readonly revision_id: number;
  readonly kind: Artifact['kind'];
  readonly name: string;
  readonly sha256: string;
  readonly size_bytes: number;
}

async function inFull(transaction: Transaction, rows: readonly RevisionOfJobRow[]): Promise<Revision[]> {
  const ids = rows.map(({ id }) => id);
  const files = await filesOfRevisions(transaction, ids);
  const decisions = await decisionsOf(transaction, ids);
  const answers = await customerAnswersOf(transaction, ids);
  const artifacts = await byRevision<ArtifactRow>(transaction, 'artifacts', rows);
  return (await summaries(transaction, rows)).map((summary, index) => {
    const row = rows[index];
    return {
      ...summary,
      source: { kind: row.source_kind, detail: row.source_detail },
      sizeClass: row.size_class,
      ...files.get(row.id)!,
      artifacts: artifacts
        .get(row.id)!
        .map(({ kind, name, sha256, size_bytes }) => ({ kind, name, sha256, sizeBytes: size_bytes })),
      timings: JSON.parse(row.timings),
      attempt: row.attempt,
      failures: row.failures,
      place: { at: row.place_at, movingTo: row.moving_to },
      decisions: decisions.get(row.id)!,
      contentKey: row.content_key,
      answers: answers.get(row.id)!,
    };
  });
}

/** The latest revision that has a file of this hash among those its check left; null when there is none. */
export async function revisionOfArtifact(transaction: Transaction, sha256: string): Promise<Revision | null> {
  const row = await one<{ id: number }>(
    transaction,
    'SELECT revision_id AS id FROM artifacts WHERE sha256 = ? ORDER BY revision_id DESC LIMIT 1',
    [sha256],
  );
  return row === null ? null : revision(transaction, row.id);
}

async function byRevision<Row extends { readonly revision_id: number }>(
  transaction: Transaction,
  table: 'revision_inks' | 'artifacts',
  revisions: readonly RevisionOfJobRow[],
): Promise<Map<number, Row[]>> {
  const found = new Map<number, Row[]>(revisions.map(({ id }) => [id, []]));
  if (revisions.length === 0) return found;
  const ids = [...found.keys()];
  const rows = await transaction.all<Row>(
    `SELECT * FROM ${table} WHERE revision_id IN (${marks(ids)}) ORDER BY revision_id, position`,
    ids,
  );
  for (const row of rows) found.get(row.revision_id)!.push(row);
  return found;
}

async function historyOf(transaction: Transaction, jobId: number): Promise<HistoryEntry[]> {
  const rows = await transaction.all<Omit<HistoryEntry, 'detail'> & { detail: string }>(
    'SELECT at, who, what, revision, detail FROM history WHERE job_id = ? ORDER BY id',
    [jobId],
  );
  return rows.map(({ at, who, what, revision: number, detail }) => ({
    at,
    who,
    what,
    revision: number,
    detail: JSON.parse(detail),
  }));
}
