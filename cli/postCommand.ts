import type { JobStore } from '../src/jobs/jobStore.ts';
import { type PostTools, postNext } from '../src/post/postman.ts';
import { mailSender } from './mailServer.ts';
import { openUsableStore } from './openUsableStore.ts';
import { postWorkerId } from './postLoop.ts';
import { noteSettings } from './shopNotes.ts';

export interface PostOptions {
  readonly store: string;
  readonly shop?: string;
}

/** Sends the mails whose turn it is, and ends: 0 when none is left over that failed. */
export async function postCommand(options: PostOptions): Promise<number> {
  const { settings, folder } = await noteSettings(options.shop);
  const { send } = await mailSender(settings, folder);
  const opened = await openUsableStore({ ...options, recordsOnly: true }, 'plateglass post');
  try {
    return await postAll(opened.jobs, send);
  } finally {
    await opened.close();
  }
}

/** Sends until nothing is due; what failed comes back later, so that this ends. */
export async function postAll(store: JobStore, send: PostTools['send']): Promise<number> {
  const say = (line: string) => process.stderr.write(`${line}\n`);
  const workerId = postWorkerId();
  for (let failed = 0; ; ) {
    const posted = await postNext({ store, workerId, send, say });
    if (posted === 'nothing') return failed === 0 ? 0 : 1;
    if (posted !== 'sent') failed += 1;
  }
}
