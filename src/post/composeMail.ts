import MailComposer from 'nodemailer/lib/mail-composer';
import { type MailAddress, MailRefused, oneLine } from './mailAddress.ts';

/** A picture that the HTML shows: `cid:` and its id there. */
export interface InlinePicture {
  /** Letters, digits, dots and one "@". */
  readonly contentId: string;
  readonly fileName: string;
  readonly png: Uint8Array;
}

export interface Mail {
  /** Null only in a draft: whoever opens it fills it in. */
  readonly from: MailAddress | null;
  readonly replyTo: MailAddress | null;
  readonly to: MailAddress | null;
  readonly subject: string;
  readonly text: string;
  readonly html: string;
  readonly pictures: readonly InlinePicture[];
  readonly attachment: { readonly fileName: string; readonly pdf: Uint8Array } | null;
  /** A draft to be opened, looked at and sent by a person; else when it is sent, and under which id. */
  readonly sent: 'draft' | { readonly date: Date; readonly messageId: string };
}

/** Relays stop at 10 to 25 MB; a mail of a few pictures needs far less. */
export const usualMostBytes = 5 * 2 ** 20;

/**
 * The one function that makes a mail: multipart/mixed of multipart/alternative (plain text; multipart/related of HTML and
 * its pictures) and the attachment, as bytes of RFC 5322. Nothing but bytes that are given goes in. Throws MailRefused.
 */
export async function composeMail(mail: Mail, mostBytes = usualMostBytes): Promise<Buffer> {
  for (const { contentId, fileName } of mail.pictures) {
    if (!/^[\w.-]+@[\w.-]+$/.test(contentId)) throw new MailRefused('The Content-ID of a picture is not one.');
    plainFileName(fileName);
  }
  if (mail.attachment !== null) plainFileName(mail.attachment.fileName);
  if (mail.sent !== 'draft' && (mail.from === null || mail.to === null))
    throw new MailRefused('A mail that is sent needs a sender and an address.');
  const node = new MailComposer({
    ...(mail.from === null ? {} : { from: mail.from }),
    ...(mail.replyTo === null ? {} : { replyTo: mail.replyTo }),
    ...(mail.to === null ? {} : { to: mail.to }),
    subject: oneLine(mail.subject, 'The subject'),
    // Its coding leaves the ends of lines as they are, and no mail may have bare ones (RFC 5322, 2.3).
    text: mail.text.replace(/\r?\n/g, '\r\n'),
    html: mail.html.replace(/\r?\n/g, '\r\n'),
    textEncoding: 'quoted-printable',
    attachments: [
      ...mail.pictures.map(({ contentId, fileName, png }) => ({
        cid: contentId,
        filename: fileName,
        contentType: 'image/png',
        contentDisposition: 'inline' as const,
        content: Buffer.from(png),
      })),
      ...(mail.attachment === null
        ? []
        : [
            {
              filename: mail.attachment.fileName,
              contentType: 'application/pdf',
              content: Buffer.from(mail.attachment.pdf),
            },
          ]),
    ],
    ...(mail.sent === 'draft'
      ? { headers: { 'X-Unsent': '1' } }
      : { date: mail.sent.date, messageId: oneLine(mail.sent.messageId, 'The message id') }),
    disableFileAccess: true,
    disableUrlAccess: true,
  }).compile();
  const built = await new Promise<Buffer>((resolve, reject) =>
    node.build((error, bytes) => (error ? reject(error) : resolve(bytes))),
  );
  // A draft has no date and no id: it gets them when it is sent.
  const bytes = mail.sent === 'draft' ? withoutHeaders(built, ['date', 'message-id']) : built;
  if (bytes.length > mostBytes) throw new MailTooLarge(bytes.length, mostBytes);
  return bytes;
}

/** The mail is larger than its server is likely to take. */
export class MailTooLarge extends MailRefused {
  constructor(bytes: number, mostBytes: number) {
    const inMegabytes = (count: number) => (count / 2 ** 20).toFixed(1);
    super(`The mail has ${inMegabytes(bytes)} MB, and ${inMegabytes(mostBytes)} MB are allowed.`);
  }
}

function plainFileName(name: string): void {
  if (!/^[\w][\w .-]{0,99}$/.test(name)) throw new MailRefused('A file name in a mail must be plain ASCII.');
}

/** Takes whole header fields, with the lines they go on over, out of the head of a mail. */
function withoutHeaders(mail: Buffer, names: readonly string[]): Buffer {
  const end = mail.indexOf('\r\n\r\n');
  const fields = mail
    .subarray(0, end)
    .toString('latin1')
    .split(/\r\n(?![ \t])/);
  const kept = fields.filter((field) => !names.includes(field.slice(0, field.indexOf(':')).toLowerCase()));
  return Buffer.concat([Buffer.from(kept.join('\r\n'), 'latin1'), mail.subarray(end)]);
}
