import { resolve } from 'node:path';
import { noticeKinds } from '../src/intake/notices.ts';
import type { JobStore } from '../src/jobs/jobStore.ts';
import { openUsableStore } from './openUsableStore.ts';
import { askedToEnd, checkProgram, describeSetUp, graceMsOf, shareOut } from './serviceOptions.ts';
import { storeOfFolder } from './storeOfFolder.ts';
import { type HeldFolder, holdFolder, type Watching, type WatchOptions, watchHeld } from './watchFolder.ts';

/** Watches a folder until it is asked to end. */
export async function watchCommand(folder: string, options: WatchOptions): Promise<number> {
  const held = await holdFolder(folder, options);
  const { root, say } = held;
  try {
    const { hands, memoryBytes } = shareOut(options);
    const program = await checkProgram(options, memoryBytes);
    const location = options.store ?? (await storeOfFolder(held.spool));
    const opened = await openUsableStore({ store: location, blobs: options.blobs }, 'plateglass watch');
    try {
      say.job(`Watching ${root}. ${describeSetUp(program, hands)}`);
      let halt: () => void = () => process.exit(1);
      const ended = askedToEnd(() => halt());
      const watching = await watchHeld({ held, opened, location, program, hands, options });
      halt = () => watching.station.hands.halt();
      const allDone = () => allDoneOf(watching, held, opened.jobs, resolve(options.outcomes ?? root));
      await (options.once ? Promise.race([ended, allDone()]) : ended);
      say.job('Asked to end: finishing what is being checked.');
      await watching.stop(graceMsOf(options));
      say.job('Ended.');
      return 0;
    } finally {
      await opened.close();
    }
  } finally {
    await held.release();
  }
}

/** Waits until nothing in the folder settles and nothing that came through it, or that has no place, is to be done. */
async function allDoneOf(
  { loop, station }: Watching,
  { spool }: HeldFolder,
  jobs: JobStore,
  outcomes: string,
): Promise<void> {
  const isOurs = (at: string | null) =>
    at === null || [spool.jobs, outcomes].some((folder) => at.startsWith(`${folder}/`));
  const isIdle = async () => {
    const { counts } = await station.measure();
    if (counts === null || counts.pendingMoves > 0) return false;
    // Mails that wait for their server are sent by whoever runs then.
    if (noticeKinds.some((kind) => (counts.openEffects[kind] ?? 0) > 0)) return false;
    const { revisions } = await jobs.find({ states: ['waiting', 'working'], allRevisions: true, limit: 1_000 });
    for (const { revisionId } of revisions)
      if (isOurs((await jobs.revision(revisionId))?.place.at ?? null)) return false;
    return true;
  };
  let quiet = 0;
  while (quiet < 2) {
    await new Promise((resolve) => setTimeout(resolve, 500));
    quiet = loop.last?.there && loop.last.settling === 0 && (await isIdle().catch(() => false)) ? quiet + 1 : 0;
  }
}
