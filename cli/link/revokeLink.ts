import { withStore } from '../jobs/openStore.ts';
import { UsageError } from '../usageError.ts';
import type { LinkChoice } from './addLinkCommands.ts';

export async function revokeLink(id: number, options: LinkChoice): Promise<number> {
  return withStore(options, 'records', async ({ jobs }) => {
    if (!(await jobs.revokeCustomerLink(id, options.by)))
      throw new UsageError(`Link ${id} is not there, or was revoked before. plateglass link list tells them.`);
    process.stdout.write(`Link ${id} is closed.\n`);
    return 0;
  });
}
