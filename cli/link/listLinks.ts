import type { StoreChoice } from '../jobs/addJobsCommands.ts';
import { withStore } from '../jobs/openStore.ts';
import { minuteOf, table } from '../jobs/words.ts';
import { UsageError } from '../usageError.ts';

/** Tokens are kept nowhere, so a link can be named and closed, but not told again. */
export async function listLinks(name: string | undefined, options: StoreChoice): Promise<number> {
  return withStore(options, 'records', async ({ jobs }) => {
    const job = name === undefined ? null : await jobs.job(name);
    if (name !== undefined && job === null) throw new UsageError(`There is no job "${name}".`);
    const links = await jobs.customerLinks(job?.jobId ?? null);
    const rows: string[][] = [];
    for (const { id, jobId, madeAt, madeBy, expiresAt, revoked, isOpen } of links) {
      const jobName = job?.jobName ?? (await jobs.job(jobId))?.jobName ?? '';
      const standing = revoked !== null ? `revoked by ${revoked.by}` : isOpen ? 'open' : 'expired';
      rows.push([String(id), jobName, minuteOf(madeAt), madeBy, minuteOf(expiresAt), standing]);
    }
    process.stdout.write(
      rows.length === 0
        ? 'There is no link.\n'
        : table([['link', 'job', 'made', 'by', 'valid until', 'standing'], ...rows]),
    );
    return 0;
  });
}
