import { type MailAddress, MailRefused, mailAddress } from '../src/post/mailAddress.ts';
import type { NoteSettings } from './shopNotes.ts';
import { UsageError } from './usageError.ts';

export interface NoteAddresses {
  readonly from: MailAddress;
  readonly replyTo: MailAddress | null;
  readonly to: MailAddress;
}

/** From whom to whom a note goes, as the shop has set and the command says. Throws MailRefused. */
export function addressesOf(to: string | undefined, { mail = {} }: NoteSettings): NoteAddresses {
  if (to === undefined) throw new UsageError('Say whom the mail is for: --to ADDRESS.');
  if (mail.from === undefined)
    throw new UsageError('A mail needs a sender: give its address as note.mail.from in the shop’s file.');
  return {
    from: mailAddress(mail.from, 'note.mail.from'),
    replyTo: mail.replyTo === undefined ? null : mailAddress(mail.replyTo, 'note.mail.replyTo'),
    to: mailAddress(to, '--to'),
  };
}

/** As above; a draft may be without, as whoever opens it fills them in. */
export function addressesOfDraft(to: string | undefined, { mail = {} }: NoteSettings) {
  const addressIn = (text: string | undefined, what: string) => (text === undefined ? null : mailAddress(text, what));
  return {
    from: addressIn(mail.from, 'note.mail.from'),
    replyTo: addressIn(mail.replyTo, 'note.mail.replyTo'),
    to: addressIn(to, '--to'),
  };
}

export function mostBytesOf({ mail }: NoteSettings): number | undefined {
  return mail?.mostMegabytes === undefined ? undefined : mail.mostMegabytes * 2 ** 20;
}

/** What a mail cannot be made of is for whoever gave it to put right. */
export async function refusedInWords<T>(work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    throw error instanceof MailRefused ? new UsageError(error.message) : error;
  }
}
