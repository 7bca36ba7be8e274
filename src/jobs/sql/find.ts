import { foldText } from '../foldText.ts';
import type { JobFilter, JobPage } from '../jobTypes.ts';
import { StoreRequestError } from '../storeErrors.ts';
import { marks, type SqlValue, type Transaction } from './database.ts';
import { summaries } from './readJobs.ts';
import { type RevisionOfJobRow, revisionOfJob } from './rows.ts';

const mostAtOnce = 1_000;
const usually = 100;

const hasInk = `EXISTS (SELECT 1 FROM revision_inks WHERE revision_inks.revision_id = revisions.id
  AND revision_inks.name_folded LIKE ? ESCAPE '!')`;

export async function find(transaction: Transaction, filter: JobFilter): Promise<JobPage> {
  const { conditions, values } = conditionsOf(filter);
  const limit = Math.min(mostAtOnce, Math.max(1, Math.floor(filter.limit ?? usually)));
  const rows = await transaction.all<RevisionOfJobRow>(
    `${revisionOfJob}${conditions.length === 0 ? '' : ` WHERE ${conditions.join(' AND ')}`}
      ORDER BY revisions.id DESC LIMIT ${limit + 1}`,
    values,
  );
  const page = rows.slice(0, limit);
  return {
    revisions: await summaries(transaction, page),
    next: rows.length > limit ? String(page[page.length - 1].id) : null,
  };
}

function conditionsOf(filter: JobFilter): { conditions: string[]; values: SqlValue[] } {
  const conditions: string[] = [];
  const values: SqlValue[] = [];
  const add = (condition: string, ...more: SqlValue[]) => {
    conditions.push(condition);
    values.push(...more);
  };
  if (!filter.allRevisions) add('revisions.revision = jobs.latest_revision');
  if (filter.name !== undefined) add(`jobs.name_folded LIKE ? ESCAPE '!'`, anywhere(filter.name));
  if (filter.customer !== undefined) add(`jobs.customer_folded LIKE ? ESCAPE '!'`, anywhere(filter.customer));
  if (filter.ink !== undefined) add(hasInk, anywhere(filter.ink));
  if (filter.text !== undefined) {
    const wanted = anywhere(filter.text);
    add(
      `(jobs.name_folded LIKE ? ESCAPE '!' OR jobs.customer_folded LIKE ? ESCAPE '!' OR ${hasInk})`,
      ...[wanted, wanted, wanted],
    );
  }
  if (filter.arrivedFrom !== undefined) add('revisions.arrived_at >= ?', filter.arrivedFrom);
  if (filter.arrivedBefore !== undefined) add('revisions.arrived_at < ?', filter.arrivedBefore);
  if (filter.verdicts !== undefined) addOneOf('revisions.verdict', filter.verdicts);
  if (filter.states !== undefined) addOneOf('revisions.state', filter.states);
  if (filter.standing === 'none') add('revisions.standing IS NULL');
  else if (filter.standing !== undefined) add('revisions.standing = ?', filter.standing);
  if (filter.after !== undefined) {
    if (!/^\d{1,15}$/.test(filter.after)) throw new StoreRequestError('That is not the `next` of an earlier page.');
    add('revisions.id < ?', Number(filter.after));
  }
  return { conditions, values };

  function addOneOf(column: string, wanted: readonly string[]) {
    if (wanted.length === 0) add('1 = 0');
    else add(`${column} IN (${marks(wanted)})`, ...wanted);
  }
}

function anywhere(text: string): string {
  return `%${foldText(text).replace(/[!%_]/g, '!$&')}%`;
}
