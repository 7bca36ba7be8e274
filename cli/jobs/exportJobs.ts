import { writeFile } from 'node:fs/promises';
import type { JobStore } from '../../src/jobs/jobStore.ts';
import type { JobFilter, RevisionSummary } from '../../src/jobs/jobTypes.ts';
import { UsageError } from '../usageError.ts';
import type { FilterChoice, StoreChoice } from './addJobsCommands.ts';
import { csv } from './csv.ts';
import { filterOf, withStore } from './openStore.ts';

export async function exportJobs(
  options: StoreChoice & FilterChoice & { readonly format: 'csv' | 'json'; readonly out?: string },
): Promise<number> {
  const rows = await withStore(options, 'records', ({ jobs }) => findAll(jobs, filterOf(options)));
  const text = options.format === 'csv' ? csv([columns, ...rows.map(cells)]) : `${JSON.stringify(rows, null, 2)}\n`;
  if (options.out === undefined) process.stdout.write(text);
  else {
    await writeFile(options.out, text, { flag: 'wx' }).catch((error: NodeJS.ErrnoException) => {
      throw new UsageError(
        error.code === 'EEXIST'
          ? `${options.out} is there already. Give another name, or remove it first.`
          : `${options.out} cannot be written (${error.code}).`,
      );
    });
    process.stderr.write(`${rows.length} written to ${options.out}\n`);
  }
  return 0;
}

async function findAll(jobs: JobStore, filter: JobFilter): Promise<RevisionSummary[]> {
  const found: RevisionSummary[] = [];
  for (let after: string | undefined; ; ) {
    const page = await jobs.find({ ...filter, limit: 1_000, after });
    found.push(...page.revisions);
    if (page.next === null) return found;
    after = page.next;
  }
}

const columns = [
  'job',
  'revision',
  'customer',
  'arrived',
  'finished',
  'state',
  'verdict',
  'standing',
  'inks',
  'bytes',
  'reason',
  'customer answer',
];

function cells(row: RevisionSummary): (string | number | null)[] {
  return [
    row.jobName,
    row.revision,
    row.customer,
    new Date(row.arrivedAt).toISOString(),
    row.finishedAt === null ? null : new Date(row.finishedAt).toISOString(),
    row.state,
    row.verdict,
    row.standing,
    row.inkNames.join('; '),
    row.sizeBytes,
    row.reason,
    row.customerAnswer,
  ];
}
