import { plainText } from '../plainText.ts';
import type { StoreChoice } from './addJobsCommands.ts';
import { withStore } from './openStore.ts';

export async function pruneJobs(
  options: StoreChoice & {
    readonly olderThan: number;
    readonly alsoLatest?: boolean;
    readonly alsoReleased?: boolean;
    readonly tryOut?: boolean;
    readonly by: string;
  },
): Promise<number> {
  await withStore(options, 'all', async ({ jobs, blobs }) => {
    const rule = {
      olderThanDays: options.olderThan,
      keepLatest: !options.alsoLatest,
      keepReleased: !options.alsoReleased,
      tryOut: options.tryOut,
    };
    const { revisions, jobsGone } = await jobs.prune(rule, options.by);
    for (const { jobName, revision } of revisions) {
      process.stdout.write(plainText(`${jobName}, revision ${revision}`));
      process.stdout.write('\n');
    }
    const records = `${revisions.length} revisions, ${jobsGone} whole jobs`;
    if (options.tryOut) {
      process.stdout.write(`Would remove ${records}.\n`);
      return;
    }
    const swept = await blobs.sweep(new Set(await jobs.blobsInUse()));
    const megabytes = (swept.sizeBytes / 1e6).toFixed(1);
    process.stdout.write(`Removed ${records}; ${swept.count} reports and pictures, ${megabytes} MB.\n`);
  });
  return 0;
}
