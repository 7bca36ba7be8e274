import { createHash } from 'node:crypto';
import type { JobStore } from '../jobs/jobStore.ts';
import type { Envelope } from './smtp.ts';

/** Kind of the effects that are mails. */
export const mailKind = 'mail';

export interface QueuedMail {
  readonly envelope: Envelope;
  readonly mailBase64: string;
}

/** What makes a mail the same as one before: whom it is for and what it says. `again` makes it another. */
export function mailKey(to: string, subject: string, text: string, again = ''): string {
  const said = JSON.stringify([to.toLowerCase(), subject, text, again]);
  return `mail:${createHash('sha256').update(said).digest('hex').slice(0, 40)}`;
}

/** Puts a mail into the store, to be sent once; false when the same was put there before, whatever became of it. */
export async function queueMail(store: JobStore, key: string, envelope: Envelope, mail: Uint8Array): Promise<boolean> {
  const payload: QueuedMail = { envelope, mailBase64: Buffer.from(mail).toString('base64') };
  return (await store.addEffects([{ key, kind: mailKind, payload }])) === 1;
}
