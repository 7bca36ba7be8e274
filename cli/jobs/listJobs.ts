import type { FilterChoice, StoreChoice } from './addJobsCommands.ts';
import { filterOf, withStore } from './openStore.ts';
import { inWords, minuteOf, table } from './words.ts';

export async function listJobs(
  options: StoreChoice & FilterChoice & { readonly limit: number; readonly format: 'text' | 'json' },
): Promise<number> {
  const page = await withStore(options, 'records', ({ jobs }) =>
    jobs.find({ ...filterOf(options), limit: options.limit }),
  );
  if (options.format === 'json') {
    process.stdout.write(`${JSON.stringify(page.revisions, null, 2)}\n`);
    return 0;
  }
  if (page.revisions.length === 0) process.stdout.write('No job fits.\n');
  else {
    process.stdout.write(
      table([
        ['arrived', 'job', 'rev.', 'customer', 'standing', 'inks'],
        ...page.revisions.map((row) => [
          minuteOf(row.arrivedAt),
          row.jobName,
          String(row.revision),
          row.customer ?? '',
          inWords(row),
          row.inkNames.join(', '),
        ]),
      ]),
    );
  }
  if (page.next !== null)
    process.stderr.write(`There are more; these are ${page.revisions.length}. Ask with --limit.\n`);
  return 0;
}
