import { mkdir } from 'node:fs/promises';
import { hostname } from 'node:os';
import { resolve } from 'node:path';
import type { CheckProgram } from '../src/intake/childCheck.ts';
import { systemClock } from '../src/intake/clock.ts';
import { realDisk } from '../src/intake/disk.ts';
import { prepareFolder } from '../src/intake/folderIdentity.ts';
import { FolderIsWatched, lockFolder, workerPrefix } from '../src/intake/folderLock.ts';
import type { WorkerTools } from '../src/intake/jobWorker.ts';
import { serveMetrics } from '../src/intake/metrics.ts';
import { ownMark } from '../src/intake/processes.ts';
import { repair } from '../src/intake/repair.ts';
import type { Say } from '../src/intake/say.ts';
import { localRules, shareRules } from '../src/intake/settling.ts';
import type { Spool } from '../src/intake/spool.ts';
import { spoolIn } from '../src/intake/spool.ts';
import type { Station } from '../src/intake/station.ts';
import { isOnNetwork, newId, openStation } from '../src/intake/station.ts';
import { WatchedFolder } from '../src/intake/watchedFolder.ts';
import { WatchLoop } from '../src/intake/watchLoop.ts';
import { clearWork } from '../src/intake/workFolders.ts';
import type { OpenedStore } from '../src/jobs/jobStore.ts';
import { isPostgres } from '../src/jobs/openJobStore.ts';
import { type Posting, startPosting } from './postLoop.ts';
import type { ServiceOptions } from './serviceOptions.ts';
import { folderThatIsThere, leaseMsOf, sayOn } from './serviceOptions.ts';
import { noticeTargets } from './shopNotices.ts';
import { UsageError } from './usageError.ts';

export interface WatchOptions extends ServiceOptions {
  /** Seconds a drop must lie still. */
  readonly settle?: number;
  /** Seconds between sweeps. */
  readonly sweep?: number;
  readonly markersOnly?: boolean;
  /** Take the folder over from a machine that is gone. */
  readonly takeOver?: boolean;
  /** End when everything that lies there has been checked. */
  readonly once?: boolean;
}

/** A folder that nobody else watches until it is let go. */
export interface HeldFolder {
  readonly root: string;
  readonly spool: Spool;
  readonly say: Say;
  readonly folderId: string;
  /** Beginning of the names of workers that had it and are gone without putting it in order. */
  readonly left: string | null;
  release(): Promise<void>;
}

export async function holdFolder(folder: string, options: WatchOptions): Promise<HeldFolder> {
  const root = await folderThatIsThere(folder);
  const spool = spoolIn(root);
  const say = sayOn(options.log ?? spool.log);
  await mkdir(spool.home, { recursive: true });
  const takeOver = options.takeOver ? say.trouble : null;
  const lock = await lockFolder(spool.lock, { token: newId(), clock: systemClock, takeOver }).catch((error: Error) => {
    throw error instanceof FolderIsWatched ? new UsageError(`${root}: ${error.message}`) : error;
  });
  try {
    const folderId = await prepareFolder(realDisk, spool, newId);
    await clearWork(realDisk, spool);
    return { root, spool, say, folderId, left: lock.left, release: () => lock.release() };
  } catch (error) {
    await lock.release();
    throw error;
  }
}

export interface WatchParts {
  readonly held: HeldFolder;
  readonly opened: OpenedStore;
  readonly location: string;
  readonly program: CheckProgram;
  readonly hands: number;
  readonly options: WatchOptions;
  readonly progress?: WorkerTools['progress'];
}

export interface Watching {
  readonly station: Station;
  readonly loop: WatchLoop;
  readonly posting: Posting;
  stop(graceMs: number): Promise<void>;
}

/** Puts right what was left, and watches a folder that is held. */
export async function watchHeld(parts: WatchParts): Promise<Watching> {
  const { held, opened, location, program, hands, options, progress } = parts;
  const { root, spool, say, folderId, left } = held;
  if (left !== null)
    await opened.jobs.handBackAllOf(workersOf(left, hands), 'the program ended while it was being checked');
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
    ...{ spool, outcomes, opened, hands, program, say, progress },
    workerPrefix: workerPrefix({ host: hostname(), ...ownMark() }),
    targets: await noticeTargets(shopFile, options),
    writeNotChecked: async (...parameters) =>
      (await import('./writeNotChecked.ts')).writeNotChecked(program.shopFile ?? undefined, ...parameters),
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
  await repair(tools, outcomes, say);
  if (left !== null) await station.hands.takeUpMoves(workersOf(left, hands));
  const posting = startPosting(opened.jobs, () => program.shopFile, say);
  loop.start();
  return {
    station,
    loop,
    posting,
    stop: async (graceMs) => {
      await loop.stop();
      await watched.idle();
      await Promise.all([station.stop(graceMs), posting.stop()]);
      metrics?.close();
      metrics?.closeAllConnections();
    },
  };
}

/** What the workers of a process may have been called, whatever it was started with. */
function workersOf(prefix: string, hands: number): string[] {
  const hand = Array.from({ length: Math.max(hands, 64) }, (_, n) => `${prefix}${n + 1}`);
  return [...hand, `${prefix}moves`];
}
