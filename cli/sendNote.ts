import { noteText } from '../src/fixNotes/noteText.ts';
import { noteMail } from '../src/post/noteMail.ts';
import { mailKey, queueMail } from '../src/post/outbox.ts';
import { mailSender } from './mailServer.ts';
import { addressesOf, mostBytesOf, refusedInWords } from './noteAddresses.ts';
import { type MadeNote, notePdf } from './noteCommand.ts';
import { openUsableStore } from './openUsableStore.ts';
import { postAll } from './postCommand.ts';
import type { NoteSettings } from './shopNotes.ts';

export interface SendWish {
  readonly to?: string;
  readonly again?: boolean;
  readonly store: string;
}

/** Puts the note into the store as a mail, and sends what is due. The same note to the same address goes out once. */
export async function sendNote(
  made: MadeNote,
  wish: SendWish,
  settings: NoteSettings,
  shopFolder: string,
): Promise<number> {
  const { note, pictures } = made;
  // Whatever is wrong with the server's settings is said before anything is queued.
  const { send } = await mailSender(settings, shopFolder);
  return refusedInWords(async () => {
    const addresses = addressesOf(wish.to, settings);
    const key = mailKey(addresses.to.address, note.subject, noteText(note), wish.again ? new Date().toISOString() : '');
    const messageId = `<${key.replace(/\W/g, '.')}@${addresses.from.address.split('@')[1]}>`;
    const sent = { date: new Date(), messageId };
    const mail = await noteMail(
      { note, pictures, pdf: await notePdf(made), ...addresses, sent },
      mostBytesOf(settings),
    );
    const opened = await openUsableStore({ store: wish.store, recordsOnly: true }, 'plateglass note');
    try {
      const envelope = { from: addresses.from.address, to: addresses.to.address };
      if (!(await queueMail(opened.jobs, key, envelope, mail)))
        process.stderr.write(
          `This note was given to the post for ${addresses.to.address} before, and does not go out a second time; --again sends it once more.\n`,
        );
      return await postAll(opened.jobs, send);
    } finally {
      await opened.close();
    }
  });
}
