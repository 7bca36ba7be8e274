import type { CustomerNote } from '../src/fixNotes/customerNote.ts';
import { noteText } from '../src/fixNotes/noteText.ts';
import { noteMail } from '../src/post/noteMail.ts';
import { mailKey, messageIdOf, type OutgoingMail, queueMail } from '../src/post/outbox.ts';
import { type MadeNote, notePdf } from './madeNote.ts';
import { mailSender } from './mailServer.ts';
import { addressesOf, mostBytesOf, refusedInWords } from './noteAddresses.ts';
import { openUsableStore } from './openUsableStore.ts';
import { postAll } from './postCommand.ts';
import type { NoteSettings } from './shopNotes.ts';

export interface SendWish {
  readonly to?: string;
  readonly again?: boolean;
  readonly store: string;
  /** Of the link in the note, which makes no other note of it; closed again when the note does not go out. */
  readonly linkId: number | null;
}

/** Puts the note into the store as a mail, and sends what is due. The same note to the same address goes out once. */
export async function sendNote(
  made: MadeNote,
  wish: SendWish,
  settings: NoteSettings,
  shopFolder: string,
): Promise<number> {
  // Whatever is wrong with the server's settings is said before anything is queued.
  const { send } = await mailSender(settings, shopFolder);
  const { key, ...mail } = await outgoingNote(made, wish.to, settings, wish.again ? new Date().toISOString() : '');
  const opened = await openUsableStore({ store: wish.store, recordsOnly: true }, 'plateglass note');
  try {
    if (!(await queueMail(opened.jobs, key, mail))) {
      if (wish.linkId !== null) await opened.jobs.revokeCustomerLink(wish.linkId, 'plateglass note');
      process.stderr.write(
        `This note was given to the post for ${mail.envelope.to} before, and does not go out a second time; --again sends it once more.\n`,
      );
    }
    return await postAll(opened.jobs, send);
  } finally {
    await opened.close();
  }
}

/**
 * The note as a mail to be sent, under the key that keeps it from going out twice. `again` makes it another, a link in it
 * does not.
 */
export function outgoingNote(
  made: MadeNote,
  to: string | undefined,
  settings: NoteSettings,
  again: string,
): Promise<OutgoingMail & { readonly key: string }> {
  const { note, pictures } = made;
  return refusedInWords(async () => {
    const addresses = addressesOf(to, settings);
    const unlinked = { ...note, link: undefined };
    const key = mailKey(addresses.to.address, note.subject, noteText(unlinked), again);
    const messageId = messageIdOf(key, addresses.from.address);
    const sent = { date: new Date(), messageId };
    const compose = async (one: CustomerNote) =>
      noteMail(
        { note: one, pictures, pdf: await notePdf({ ...made, note: one }), ...addresses, sent },
        mostBytesOf(settings),
      );
    const mail = await compose(note);
    const copy = note.link === undefined ? {} : { copy: await compose(unlinked) };
    const envelope = { from: addresses.from.address, to: addresses.to.address };
    return { key, envelope, mail, ...copy, messageId, subject: note.subject };
  });
}
