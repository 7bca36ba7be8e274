import { contentKey } from '../contentKey.ts';
import { foldText } from '../foldText.ts';
import { type Arrival, type JobFile, largeFromBytes, type SizeClass, type TakenIn } from '../jobTypes.ts';
import { StoreRequestError } from '../storeErrors.ts';
import { one, type Transaction } from './database.ts';
import { addEffects } from './effects.ts';
import type { JobRow, RevisionRow } from './rows.ts';
import { writeHistory } from './writeHistory.ts';

/** A new job, the next revision of one, or nothing when the latest revision is the same. */
export async function takeIn(transaction: Transaction, arrival: Arrival): Promise<TakenIn> {
  const jobName = arrival.jobName.normalize('NFC');
  if (jobName.trim() === '') throw new StoreRequestError('A job needs a name.');
  if (arrival.files.length === 0) throw new StoreRequestError(`The job "${jobName}" has no files.`);
  const key = contentKey(arrival.files, arrival.ticketFile);
  const job = await lockJob(transaction, jobName);
  const latest = await one<RevisionRow>(transaction, 'SELECT * FROM revisions WHERE job_id = ? AND revision = ?', [
    job.id,
    job.latest_revision,
  ]);
  if (latest?.content_key === key) {
    const { id: revisionId, revision, state } = latest;
    return { kind: 'alreadyKnown', jobId: job.id, revisionId, revision, state };
  }
  const revision = job.latest_revision + 1;
  await renewJob(transaction, job.id, revision, arrival.customer);
  const now = await transaction.now();
  const revisionId = await addRevision(transaction, { jobId: job.id, revision, key, now, arrival });
  await writeHistory(transaction, {
    jobId: job.id,
    revision,
    at: now,
    who: arrival.by,
    what: 'arrived',
    detail: {
      source: arrival.source,
      files: arrival.files.map(({ name, sizeBytes, sha256 }) => ({ name, sizeBytes, sha256 })),
      ticket: arrival.ticketFile && { name: arrival.ticketFile.name, sha256: arrival.ticketFile.sha256 },
    },
  });
  await addEffects(
    transaction,
    (arrival.effects ?? []).map((effect) => ({ revisionId, ...effect })),
  );
  const kind = revision === 1 ? 'newJob' : 'newRevision';
  return { kind, jobId: job.id, revisionId, revision, state: 'waiting' };
}

/** The job of this name, made when there is none; nobody else adds a revision to it meanwhile. */
async function lockJob(transaction: Transaction, name: string): Promise<JobRow> {
  await transaction.change(
    'INSERT INTO jobs (name, name_folded, latest_revision) VALUES (?, ?, 0) ON CONFLICT (name) DO NOTHING',
    [name, foldText(name)],
  );
  return (await one<JobRow>(transaction, `SELECT * FROM jobs WHERE name = ?${transaction.forUpdate}`, [name]))!;
}

/** A later arrival that names no customer does not take the name away. */
async function renewJob(
  transaction: Transaction,
  jobId: number,
  revision: number,
  customer: string | null,
): Promise<void> {
  await transaction.change('UPDATE jobs SET latest_revision = ? WHERE id = ?', [revision, jobId]);
  if (customer !== null) {
    await transaction.change('UPDATE jobs SET customer = ?, customer_folded = ? WHERE id = ?', [
      customer,
      foldText(customer),
      jobId,
    ]);
  }
}

interface NewRevision {
  readonly jobId: number;
  readonly revision: number;
  readonly key: string;
  readonly now: number;
  readonly arrival: Arrival;
}

async function addRevision(transaction: Transaction, { jobId, revision, key, now, arrival }: NewRevision) {
  const sizeBytes = arrival.files.reduce((sum, file) => sum + file.sizeBytes, 0);
  const sizeClass: SizeClass = arrival.sizeClass ?? (sizeBytes >= largeFromBytes ? 'large' : 'small');
  const row = await one<{ id: number }>(
    transaction,
    `INSERT INTO revisions (job_id, revision, content_key, source_kind, source_detail, size_class, size_bytes,
      arrived_at, taken_in_at, state, claimable_from, attempt, failures, timings, place_at, move_attempt)
      VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, 'waiting', 0, 0, 0, '{}', ?, 0) RETURNING id`,
    [
      jobId,
      revision,
      key,
      arrival.source.kind,
      arrival.source.detail,
      sizeClass,
      sizeBytes,
      Math.round(arrival.arrivedAt),
      now,
      arrival.placeAt,
    ],
  );
  const revisionId = row!.id;
  const all: [JobFile, 'art' | 'ticket'][] = arrival.files.map((file) => [file, 'art']);
  if (arrival.ticketFile !== null) all.push([arrival.ticketFile, 'ticket']);
  for (const [position, [file, role]] of all.entries()) {
    await transaction.change(
      'INSERT INTO files (revision_id, position, role, name, size_bytes, sha256, stored_path) VALUES (?, ?, ?, ?, ?, ?, ?)',
      [revisionId, position, role, file.name, file.sizeBytes, file.sha256, file.storedPath],
    );
  }
  return revisionId;
}
