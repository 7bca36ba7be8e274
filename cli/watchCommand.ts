import { mkdir } from 'node:fs/promises';
import { hostname } from 'node:os';
import { join, resolve } from 'node:path';
import { systemClock } from '../src/intake/clock.ts';
import { realDisk } from '../src/intake/disk.ts';
import { prepareFolder } from '../src/intake/folderIdentity.ts';
import { FolderIsWatched, lockFolder, workerPrefix } from '../src/intake/folderLock.ts';
import { serveMetrics } from '../src/intake/metrics.ts';
import { ownMark } from '../src/intake/processes.ts';
import { repair } from '../src/intake/repair.ts';
import { localRules, shareRules } from '../src/intake/settling.ts';
import { spoolIn } from '../src/intake/spool.ts';
import type { Station } from '../src/intake/station.ts';
import { isOnNetwork, newId, openStation } from '../src/intake/station.ts';
import { WatchedFolder } from '../src/intake/watchedFolder.ts';
import { WatchLoop } from '../src/intake/watchLoop.ts';
import { clearWork } from '../src/intake/workFolders.ts';
import { isPostgres } from '../src/jobs/openJobStore.ts';
import { openUsableStore } from './openUsableStore.ts';
import type { ServiceOptions } from './serviceOptions.ts';
import {
  askedToEnd,
  checkProgram,
  describeSetUp,
  folderThatIsThere,
  leaseMsOf,
  sayOn,
  shareOut,
} from './serviceOptions.ts';
import { noticeTargets } from './shopNotices.ts';
import { UsageError } from './usageError.ts';

export interface WatchOptions extends ServiceOptions {
  /** Seconds a drop must lie still. */
  readonly settle?: number;
  /** Seconds between sweeps. */
  readonly sweep?: number;
  readonly markersOnly?: boolean;
  /** End when everything that lies there has been checked. */
  readonly once?: boolean;
}

const usualGraceS = 30;

/** Watches a folder until it is asked to end. */
export async function watchCommand(folder: string, options: WatchOptions): Promise<number> {
  const root = await folderThatIsThere(folder);
  const spool = spoolIn(root);
  const say = sayOn(options.log ?? spool.log);
  await mkdir(spool.home, { recursive: true });
  const lock = await lockFolder(spool.lock, newId(), systemClock).catch((error: Error) => {
    throw error instanceof FolderIsWatched ? new UsageError(`${root}: ${error.message}`) : error;
  });
  try {
    const folderId = await prepareFolder(realDisk, spool, newId);
    await clearWork(realDisk, spool);
    const { hands, memoryBytes } = shareOut(options);
    const program = await checkProgram(options, memoryBytes);
    const location = options.store ?? join(spool.home, 'store');
    const opened = await openUsableStore({ store: location, blobs: options.blobs }, 'plateglass watch');
    try {
      if (lock.left !== null)
        await opened.jobs.handBackAllOf(workersOf(lock.left, hands), 'the program ended while it was being checked');
      const outcomes = resolve(options.outcomes ?? root);
      const onNetwork = await isOnNetwork(root);
      const usual = onNetwork ? shareRules : localRules;
      const factor = options.settle === undefined ? 1 : (options.settle * 1000) / usual.stillMs;
      const rules = {
        stillMs: usual.stillMs * factor,
        folderStillMs: usual.folderStillMs * factor,
        unknownStillMs: usual.unknownStillMs * factor,
        longMs: Math.max(usual.longMs, usual.folderStillMs * factor),
      };
      const everyMs = (options.sweep ?? (onNetwork ? 6 : 1)) * 1000;
      const shopFile = program.shopFile ?? undefined;
      const station = openStation({
        ...{ spool, outcomes, opened, hands, program, say },
        workerPrefix: workerPrefix({ host: hostname(), ...ownMark() }),
        targets: await noticeTargets(shopFile, options),
        writeNotChecked: async (...parameters) =>
          (await import('./writeNotChecked.ts')).writeNotChecked(shopFile, ...parameters),
        ...{ leaseMs: leaseMsOf(options), pollMs: isPostgres(location) ? 2_000 : 1_000, mostTries: 2 },
      });
      const tools = { disk: realDisk, clock: systemClock, spool, store: opened.jobs, newId };
      let takenIn = 0;
      const watched = new WatchedFolder(
        tools,
        { rules, folderId, outcomes, markersOnly: options.markersOnly ?? false, retryMs: 30_000 },
        say,
        () => {
          takenIn += 1;
          station.hands.nudge();
        },
      );
      const loop = new WatchLoop(root, () => watched.sweep(), everyMs, say);
      const metrics =
        options.metricsPort === undefined
          ? null
          : await serveMetrics(options.metricsPort, async () => ({
              ...(await station.measure()),
              folderThere: loop.last?.there ?? true,
              secondsSinceSweep: loop.secondsSinceSweep(),
              takenIn,
            }));
      say.job(`Watching ${root}. ${describeSetUp(program, hands)}`);
      await repair(tools, outcomes, say);
      if (lock.left !== null) await station.hands.takeUpMoves(workersOf(lock.left, hands));
      const ended = askedToEnd(() => station.hands.halt());
      loop.start();
      await (options.once ? Promise.race([ended, allDone(loop, station)]) : ended);
      say.job('Asked to end: finishing what is being checked.');
      await loop.stop();
      await watched.idle();
      await station.stop((options.grace ?? usualGraceS) * 1000);
      metrics?.close();
      metrics?.closeAllConnections();
      say.job('Ended.');
      return 0;
    } finally {
      await opened.close();
    }
  } finally {
    await lock.release();
  }
}

/** What the workers of a process may have been called, whatever it was started with. */
function workersOf(prefix: string, hands: number): string[] {
  const hand = Array.from({ length: Math.max(hands, 64) }, (_, n) => `${prefix}${n + 1}`);
  return [...hand, `${prefix}moves`];
}

/** Waits until nothing in the folder settles and nothing in the store is to be done. */
async function allDone(loop: WatchLoop, station: Station): Promise<void> {
  let quiet = 0;
  while (quiet < 2) {
    await new Promise((resolve) => setTimeout(resolve, 500));
    const { counts } = await station.measure();
    const todo =
      counts === null
        ? 1
        : counts.revisions.waiting + counts.revisions.working + counts.pendingMoves + counts.effects.waiting;
    quiet = loop.last?.there && loop.last.settling === 0 && todo === 0 ? quiet + 1 : 0;
  }
}
