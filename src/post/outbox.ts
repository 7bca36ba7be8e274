import { createHash } from 'node:crypto';
import type { JobStore } from '../jobs/jobStore.ts';
import type { Envelope } from './smtp.ts';

/** Kind of the effects that are mails. */
export const mailKind = 'mail';

export interface QueuedMail {
  readonly envelope: Envelope;
  readonly mailBase64: string;
  /** Takes the place of the mail once it was sent: the same without what is for its reader alone. */
  readonly copyBase64?: string;
  readonly messageId?: string;
  readonly subject?: string;
}

/** What is put into the store. */
export interface OutgoingMail {
  readonly envelope: Envelope;
  readonly mail: Uint8Array;
  /** The same without the link to the customer’s page, where it has one; this is what is kept. */
  readonly copy?: Uint8Array;
  readonly messageId: string;
  readonly subject: string;
}

/** Whose job the mail is about, and who sends it: its history then tells what became of the mail. */
export interface OfRevision {
  readonly revisionId: number;
  readonly by: string;
}

/** What makes a mail the same as one before: whom it is for and what it says. `again` makes it another. */
export function mailKey(to: string, subject: string, text: string, again = ''): string {
  const said = JSON.stringify([to.toLowerCase(), subject, text, again]);
  return `mail:${createHash('sha256').update(said).digest('hex').slice(0, 40)}`;
}

/** An id of the mail that is the same for the same mail (RFC 5322, 3.6.4). */
export function messageIdOf(key: string, from: string): string {
  return `<${key.replace(/\W/g, '.')}@${from.split('@')[1]}>`;
}

/** Puts a mail into the store, to be sent once; false when the same was put there before, whatever became of it. */
export async function queueMail(
  store: JobStore,
  key: string,
  { envelope, mail, copy, messageId, subject }: OutgoingMail,
  of: OfRevision | null = null,
): Promise<boolean> {
  const base64 = (bytes: Uint8Array) => Buffer.from(bytes).toString('base64');
  const kept = copy === undefined ? {} : { copyBase64: base64(copy) };
  const payload: QueuedMail = { envelope, mailBase64: base64(mail), ...kept, messageId, subject };
  const told = { what: 'mailQueued', detail: toldOf(payload) };
  const ofRevision = of === null ? {} : { revisionId: of.revisionId, told: { who: of.by, ...told } };
  return (await store.addEffects([{ key, kind: mailKind, payload, ...ofRevision }])) === 1;
}

/** What is kept of a mail that was sent. */
export function sentMail({ copyBase64, ...mail }: QueuedMail): QueuedMail {
  return copyBase64 === undefined ? mail : { ...mail, mailBase64: copyBase64 };
}

/** What a history says of a mail. */
export function toldOf({ envelope, messageId, subject }: QueuedMail): Readonly<Record<string, unknown>> {
  return { to: envelope.to, subject, messageId };
}
