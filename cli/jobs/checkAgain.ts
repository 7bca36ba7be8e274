import { plainText } from '../plainText.ts';
import { UsageError } from '../usageError.ts';
import type { StoreChoice } from './addJobsCommands.ts';
import { withStore } from './openStore.ts';

export async function checkAgain(name: string, options: StoreChoice & { readonly by: string }): Promise<number> {
  return withStore(options, 'records', async ({ jobs }) => {
    const revision = (await jobs.job(name))?.revisions.at(-1);
    if (revision === undefined) throw new UsageError(`There is no job "${name}".`);
    if (!(await jobs.tryAgain(revision.revisionId, options.by))) {
      throw new UsageError(`"${name}" waits or is being checked already.`);
    }
    process.stdout.write(plainText(`${name}, revision ${revision.revision}, is waiting to be checked again.`));
    process.stdout.write('\n');
    return 0;
  });
}
