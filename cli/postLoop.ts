import { randomBytes } from 'node:crypto';
import { hostname } from 'node:os';
import { setTimeout as pause } from 'node:timers/promises';
import type { Say } from '../src/intake/say.ts';
import type { JobStore } from '../src/jobs/jobStore.ts';
import { type PostTools, postNext } from '../src/post/postman.ts';
import { mailSender } from './mailServer.ts';
import { noteSettings } from './shopNotes.ts';

const everyMs = 30_000;

/** Unlike that of any other process. */
export function postWorkerId(): string {
  return `${hostname()}:${process.pid}:${randomBytes(6).toString('hex')}:post`;
}

/** Sends mails that wait for their server as long as a service runs, where the shop has one; answers how to end it. */
export async function startPosting(
  store: JobStore,
  shopFile: string | undefined,
  say: Say,
): Promise<() => Promise<void>> {
  if (shopFile === undefined) return async () => undefined;
  let send: PostTools['send'];
  try {
    const { settings, folder } = await noteSettings(shopFile);
    if (settings.mail?.host === undefined) return async () => undefined;
    ({ send } = await mailSender(settings, folder));
  } catch (error) {
    say.trouble(`Notes are not sent: ${(error as Error).message}`);
    return async () => undefined;
  }
  const stopping = new AbortController();
  const tools = { store, workerId: postWorkerId(), send, say: (line: string) => say.trouble(line) };
  const run = async () => {
    while (!stopping.signal.aborted) {
      const posted = await postNext(tools).catch(() => 'nothing');
      if (posted === 'nothing') await pause(everyMs, undefined, { signal: stopping.signal }).catch(() => undefined);
    }
  };
  const running = run();
  return async () => {
    stopping.abort();
    await running;
  };
}
