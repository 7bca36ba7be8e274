import { hostname } from 'node:os';
import { join, resolve } from 'node:path';
import { workerPrefix } from '../src/intake/folderLock.ts';
import { serveMetrics } from '../src/intake/metrics.ts';
import { ownMark } from '../src/intake/processes.ts';
import { spoolIn } from '../src/intake/spool.ts';
import { openStation } from '../src/intake/station.ts';
import { openUsableStore } from './openUsableStore.ts';
import { startPosting } from './postLoop.ts';
import type { ServiceOptions } from './serviceOptions.ts';
import {
  askedToEnd,
  checkProgram,
  describeSetUp,
  folderThatIsThere,
  graceMsOf,
  leaseMsOf,
  sayOn,
  shareOut,
} from './serviceOptions.ts';
import { noticeTargets } from './shopNotices.ts';
import { UsageError } from './usageError.ts';

/** Checks jobs from a store that several machines share until it is asked to end. */
export async function workerCommand(folder: string, options: ServiceOptions): Promise<number> {
  if (options.store === undefined)
    throw new UsageError(
      'Say with --store where the job store is: postgres://…, or the folder of a watch on this machine.',
    );
  const root = await folderThatIsThere(folder);
  const spool = spoolIn(root);
  const say = sayOn(options.log ?? join(spool.log, hostname()));
  const { hands, memoryBytes } = shareOut(options);
  const program = await checkProgram(options, memoryBytes);
  const opened = await openUsableStore({ ...options, store: options.store }, 'plateglass worker');
  try {
    const shopFile = program.shopFile ?? undefined;
    const station = openStation({
      ...{ spool, opened, hands, program, say },
      outcomes: resolve(options.outcomes ?? root),
      workerPrefix: workerPrefix({ host: hostname(), ...ownMark() }),
      targets: await noticeTargets(shopFile, options),
      writeNotChecked: async (...parameters) =>
        (await import('./writeNotChecked.ts')).writeNotChecked(shopFile, ...parameters),
      ...{ leaseMs: leaseMsOf(options), pollMs: 2_000, mostTries: 2 },
    });
    const metrics =
      options.metricsPort === undefined
        ? null
        : await serveMetrics(options.metricsPort, async () => ({
            ...(await station.measure()),
            ...{ folderThere: null, secondsSinceSweep: null, takenIn: 0 },
          }));
    const posting = startPosting(opened.jobs, () => shopFile ?? null, say);
    say.job(`Working for ${root}. ${describeSetUp(program, hands)}`);
    await askedToEnd(() => station.hands.halt());
    say.job('Asked to end: finishing what is being checked.');
    await Promise.all([station.stop(graceMsOf(options)), posting.stop()]);
    metrics?.close();
    metrics?.closeAllConnections();
    say.job('Ended.');
    return 0;
  } finally {
    await opened.close();
  }
}
