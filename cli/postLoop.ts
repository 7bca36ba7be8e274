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

/** Mails going out as long as a service runs. */
export interface Posting {
  /** There is one to send. */
  nudge(): void;
  stop(): Promise<void>;
}

/**
 * Sends mails that wait, where the shop's file names a server or a test folder: the file is read anew before each look.
 * Any number of processes may do so on one store, which gives each mail to one of them.
 */
export function startPosting(store: JobStore, shopFile: () => string | null, say: Say): Posting {
  const stopping = new AbortController();
  const workerId = postWorkerId();
  let nudged = new AbortController();
  let trouble = '';
  const round = async () => {
    const send = await senderOf(shopFile());
    trouble = '';
    const tools = { store, workerId, send: send ?? noSender, say: (line: string) => say.trouble(line) };
    while (send !== null && !stopping.signal.aborted && (await postNext(tools)) !== 'nothing');
  };
  const run = async () => {
    while (!stopping.signal.aborted) {
      nudged = new AbortController();
      await round().catch((error: Error) => {
        if (error.message !== trouble) say.trouble(`Notes are not sent: ${error.message}`);
        trouble = error.message;
      });
      const signal = AbortSignal.any([stopping.signal, nudged.signal]);
      await pause(everyMs, undefined, { signal }).catch(() => undefined);
    }
  };
  const running = run();
  return {
    nudge: () => nudged.abort(),
    stop: async () => {
      stopping.abort();
      await running;
    },
  };
}

const noSender: PostTools['send'] = async () => ({ kind: 'later', said: 'no mail server is set' });

/** Null where the shop sends nothing. */
async function senderOf(shopFile: string | null): Promise<PostTools['send'] | null> {
  if (shopFile === null) return null;
  const { settings, folder } = await noteSettings(shopFile);
  if (settings.mail?.host === undefined && settings.mail?.testFolder === undefined) return null;
  return (await mailSender(settings, folder)).send;
}
