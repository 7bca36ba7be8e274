import { basename, dirname } from 'node:path';
import type { BlobStore, JobStore } from '../jobs/jobStore.ts';
import type { PendingMove } from '../jobs/jobTypes.ts';
import { layReport } from './artifacts.ts';
import type { Disk } from './disk.ts';
import { placeOfKeep } from './jobArt.ts';
import { moveFolder, NameIsTaken } from './moveFolder.ts';
import { freeName } from './outcomes.ts';

export interface MoveTools {
  readonly disk: Disk;
  readonly store: JobStore;
  readonly blobs: BlobStore;
  /** For so long nobody else takes up a move that somebody is carrying out. */
  readonly moveLeaseMs: number;
  /** Lays the report of a job that was given up beside its originals. */
  readonly layNotChecked: (beside: string, jobName: string, reason: string) => Promise<void>;
}

/**
 * Carries out a move that the store knows to be pending: lays the report beside the originals, moves the folder as a
 * whole, and tells the store. May be done again after a crash at any point. Answers the folder, or null when the
 * originals are not all there yet and the move has to wait.
 */
export async function carryOutMove(tools: MoveTools, move: PendingMove): Promise<string | null> {
  const { disk, store, blobs } = tools;
  const { from, to } = move;
  if (from === null) {
    await store.endMove(move, 'undone');
    return null;
  }
  const place = await placeOfKeep(disk, from);
  const isThere = (await disk.stat(from)) !== null;
  if (!isThere && (await disk.stat(to)) === null) throw new Error(`neither ${from} nor ${to} is there`);
  if (isThere) {
    // Whoever took the job in is still moving its originals here, or will when it is started again.
    if (place !== null && (await disk.stat(place.settled)) === null) return null;
    const revision = await store.revision(move.revisionId);
    const artifacts = revision?.artifacts ?? [];
    if (artifacts.length > 0) await layReport(disk, blobs, artifacts, from);
    else await tools.layNotChecked(from, move.jobName, revision?.reason ?? 'It was tried too often without an answer.');
    try {
      if (from !== to) await moveFolder(disk, from, to);
    } catch (error) {
      if (!(error instanceof NameIsTaken)) throw error;
      await store.endMove(move, 'undone');
      const free = await freeName(disk, dirname(to), basename(to));
      const wish = { workerId: move.workerId, leaseMs: tools.moveLeaseMs };
      const planned = await store.planMove(move.revisionId, free, wish);
      return planned === null ? null : carryOutMove(tools, planned);
    }
  }
  if (!(await store.endMove(move, 'done'))) return to;
  if (place !== null) await disk.remove(place.folder);
  return to;
}

const patienceMs = 5_000;

/** The same, giving whoever takes the job in the time to get its originals out of the watched folder. */
export async function carryOutMoveSoon(tools: MoveTools, move: PendingMove): Promise<string | null> {
  const untilMs = performance.now() + patienceMs;
  for (;;) {
    const folder = await carryOutMove(tools, move);
    if (folder !== null || performance.now() > untilMs) return folder;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
}
