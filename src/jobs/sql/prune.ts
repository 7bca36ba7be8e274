import type { Pruned, PruneRule } from '../jobTypes.ts';
import { StoreRequestError } from '../storeErrors.ts';
import { one, type Transaction } from './database.ts';
import { type RevisionOfJobRow, revisionOfJob } from './rows.ts';
import { writeHistory } from './writeHistory.ts';

const dayMs = 86_400_000;
/** Each behind those that refer to it. */
const tablesOfRevision = ['effects', 'customer_answers', 'decisions', 'tries', 'revision_inks', 'artifacts', 'files'];

/**
 * Removes the records of revisions that ended long ago. Never one that waits, is worked on, is being moved, or has an
 * effect still to come. Originals and reports in folders of the shop are not touched.
 */
export async function prune(transaction: Transaction, rule: PruneRule, by: string): Promise<Pruned> {
  if (!(rule.olderThanDays >= 0)) throw new StoreRequestError('Say the age in days, 0 or more.');
  const now = await transaction.now();
  const found = await transaction.all<RevisionOfJobRow>(
    `${revisionOfJob} WHERE revisions.state IN ('checked', 'couldNotRun', 'setAside') AND revisions.moving_to IS NULL
      AND revisions.finished_at <= ?
      ${rule.keepLatest === false ? '' : 'AND revisions.revision < jobs.latest_revision'}
      ${rule.keepReleased === false ? '' : "AND (revisions.standing IS NULL OR revisions.standing <> 'released')"}
      AND NOT EXISTS (SELECT 1 FROM effects WHERE effects.revision_id = revisions.id
        AND effects.state IN ('waiting', 'working'))
      ORDER BY revisions.id${transaction.forUpdate}`,
    [now - rule.olderThanDays * dayMs],
  );
  const { going, jobsEmptied } = await keepLastOfTheRest(transaction, found);
  for (const row of rule.tryOut ? [] : going) await remove(transaction, row, now, by);
  for (const jobId of rule.tryOut ? [] : jobsEmptied) {
    await transaction.change('DELETE FROM customer_links WHERE job_id = ?', [jobId]);
    await transaction.change('DELETE FROM history WHERE job_id = ?', [jobId]);
    await transaction.change('DELETE FROM jobs WHERE id = ?', [jobId]);
  }
  return {
    revisions: going.map((row) => ({ jobName: row.job_name, revision: row.revision, verdict: row.verdict })),
    jobsGone: jobsEmptied.length,
  };
}

/** A job of which something stays keeps its latest revision, by which it is listed. */
async function keepLastOfTheRest(transaction: Transaction, found: readonly RevisionOfJobRow[]) {
  const going: RevisionOfJobRow[] = [];
  const jobsEmptied: number[] = [];
  const byJob = new Map<number, RevisionOfJobRow[]>();
  for (const row of found) byJob.set(row.job_id, [...(byJob.get(row.job_id) ?? []), row]);
  for (const [jobId, ofJob] of byJob) {
    const there = await one<{ count: number }>(
      transaction,
      'SELECT COUNT(*) AS count FROM revisions WHERE job_id = ?',
      [jobId],
    );
    if (ofJob.length === there!.count) {
      going.push(...ofJob);
      jobsEmptied.push(jobId);
    } else {
      going.push(...ofJob.filter((row) => row.revision < row.latest_revision));
    }
  }
  return { going, jobsEmptied };
}

async function remove(transaction: Transaction, row: RevisionOfJobRow, now: number, by: string): Promise<void> {
  for (const table of tablesOfRevision) {
    await transaction.change(`DELETE FROM ${table} WHERE revision_id = ?`, [row.id]);
  }
  await transaction.change('DELETE FROM revisions WHERE id = ?', [row.id]);
  await transaction.change('DELETE FROM history WHERE job_id = ? AND revision = ?', [row.job_id, row.revision]);
  await writeHistory(transaction, {
    jobId: row.job_id,
    revision: row.revision,
    at: now,
    who: by,
    what: 'pruned',
    detail: { verdict: row.verdict, state: row.state, contentKey: row.content_key },
  });
}
