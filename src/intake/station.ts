import { randomBytes } from 'node:crypto';
import { cpus } from 'node:os';
import { join } from 'node:path';
import type { OpenedStore } from '../jobs/jobStore.ts';
import { refuseNetworkFolder } from '../jobs/localFileSystem.ts';
import { UnusableStoreError } from '../jobs/storeErrors.ts';
import type { CheckProgram } from './childCheck.ts';
import { checkInChild } from './childCheck.ts';
import type { Clock } from './clock.ts';
import { systemClock } from './clock.ts';
import type { Disk } from './disk.ts';
import { realDisk } from './disk.ts';
import { Hands } from './hands.ts';
import type { WorkerTools, WriteNotChecked } from './jobWorker.ts';
import type { Measured } from './metrics.ts';
import type { NoticeTargets } from './notices.ts';
import { noticesOf } from './notices.ts';
import { Notifier } from './notifier.ts';
import { reportFolder } from './outcomes.ts';
import type { Say } from './say.ts';
import type { Spool } from './spool.ts';

/** What `watch` and `worker` have in common: hands that check, and notices that go out. */
export interface StationOptions {
  readonly spool: Spool;
  readonly outcomes: string;
  readonly opened: OpenedStore;
  readonly workerPrefix: string;
  readonly hands: number;
  readonly program: CheckProgram;
  readonly targets: NoticeTargets;
  readonly say: Say;
  readonly writeNotChecked: WriteNotChecked;
  readonly progress?: WorkerTools['progress'];
  readonly leaseMs: number;
  readonly pollMs: number;
  readonly mostTries: number;
  readonly disk?: Disk;
  readonly clock?: Clock;
}

export interface Station {
  readonly hands: Hands;
  measure(): Promise<Omit<Measured, 'folderThere' | 'secondsSinceSweep' | 'takenIn'>>;
  stop(graceMs: number): Promise<void>;
}

export function openStation(options: StationOptions): Station {
  const { opened, say, spool, outcomes, targets, workerPrefix, program, pollMs } = options;
  const disk = options.disk ?? realDisk;
  const clock = options.clock ?? systemClock;
  const cores = cpus().length;
  const tools: WorkerTools = {
    ...{ disk, clock, spool, store: opened.jobs, blobs: opened.blobs, say, outcomes },
    leaseMs: options.leaseMs,
    moveLeaseMs: 2 * options.leaseMs,
    mostTries: options.mostTries,
    check: (order, signal) => checkInChild(program, order, signal),
    // A job that is alone may have all cores; several have one each.
    threads: () => Math.max(1, Math.floor(cores / Math.max(1, hands.busy))),
    writeNotChecked: options.writeNotChecked,
    layNotChecked: async (beside, jobName, reason) => {
      const folder = join(beside, reportFolder);
      await disk.remove(folder);
      await disk.makeFolder(folder);
      await options.writeNotChecked(folder, jobName, reason);
    },
    notices: (ended) => noticesOf(targets, ended),
    progress: options.progress,
  };
  const hands: Hands = new Hands(tools, pollMs);
  const notifier = new Notifier(opened.jobs, clock, say, {
    ...{ targets, pollMs, workerId: `${workerPrefix}notices`, toldFolder: spool.told },
    firstPauseMs: 5_000,
    mostTries: 30,
  });
  hands.start(workerPrefix, options.hands);
  notifier.start();
  return {
    hands,
    measure: async () => ({
      counts: await opened.jobs.counts().catch(() => null),
      handsBusy: hands.busy,
      hands: options.hands,
    }),
    stop: async (graceMs) => {
      await Promise.all([hands.stop(graceMs), notifier.stop()]);
    },
  };
}

/** A name that nothing else has, in order of time. */
export function newId(): string {
  return `${Date.now().toString(36)}-${randomBytes(5).toString('hex')}`;
}

/** Whether a folder lies on another machine, as far as its file system tells. */
export async function isOnNetwork(folder: string): Promise<boolean> {
  try {
    await refuseNetworkFolder(folder);
    return false;
  } catch (error) {
    if (error instanceof UnusableStoreError) return true;
    throw error;
  }
}
