import { createHash } from 'node:crypto';
import type { CustomerNote } from '../fixNotes/customerNote.ts';
import { noteHtml } from '../fixNotes/noteHtml.ts';
import type { NotePicture } from '../fixNotes/notePicture.ts';
import { noteText } from '../fixNotes/noteText.ts';
import { composeMail, type Mail, MailTooLarge, usualMostBytes } from './composeMail.ts';

export type NoteMail = Pick<Mail, 'from' | 'replyTo' | 'to' | 'sent'> & {
  readonly note: CustomerNote;
  readonly pictures: ReadonlyMap<number, NotePicture>;
  readonly pdf: Uint8Array;
};

/** The note as a mail. What does not fit is left out, largest first: the PDF, then the pictures. */
export async function noteMail(
  { note, pictures, pdf, ...addresses }: NoteMail,
  mostBytes = usualMostBytes,
): Promise<Buffer> {
  const idOf = ({ fileName, png }: NotePicture) =>
    `${fileName.replace('.png', '')}.${createHash('sha256').update(png).digest('hex').slice(0, 16)}@plateglass`;
  const compose = (shown: ReadonlyMap<number, NotePicture>, withPdf: boolean) =>
    composeMail(
      {
        ...addresses,
        subject: note.subject,
        text: noteText(note),
        html: noteHtml(note, shown, (picture) => `cid:${idOf(picture)}`),
        pictures: [...shown.values()].map((picture) => ({ ...picture, contentId: idOf(picture) })),
        attachment: withPdf ? { fileName: 'note.pdf', pdf } : null,
      },
      mostBytes,
    );
  for (const [shown, withPdf] of [
    [pictures, true],
    [pictures, false],
  ] as const)
    try {
      return await compose(shown, withPdf);
    } catch (error) {
      if (!(error instanceof MailTooLarge)) throw error;
    }
  return compose(new Map(), false);
}
