import { type CustomerNote, customerNote, type NoteWish } from '../src/fixNotes/customerNote.ts';
import { noteHtml } from '../src/fixNotes/noteHtml.ts';
import { noteMarkdown } from '../src/fixNotes/noteMarkdown.ts';
import { type NotePicture, notePictures, type PaintPart } from '../src/fixNotes/notePicture.ts';
import type { NoteSince } from '../src/fixNotes/noteSince.ts';
import { noteText } from '../src/fixNotes/noteText.ts';
import type { ReportJson } from '../src/report/reportJson.ts';
import { addressesOfDraft, mostBytesOf, refusedInWords } from './noteAddresses.ts';
import type { NoteSettings } from './shopNotes.ts';

/** A note with all that its renderings show. */
export interface MadeNote {
  readonly report: ReportJson;
  readonly note: CustomerNote;
  readonly pictures: ReadonlyMap<number, NotePicture>;
  /** The picture that lies beside the report; null where there is none. */
  readonly compositePng: Uint8Array | null;
}

/** The revision before with what became of it, and its picture. */
export interface Earlier {
  readonly since: NoteSince;
  readonly compositePng: Uint8Array | null;
}

/** `earlier`: null for a first note. `paintPart`: from the plates, where they were kept. */
export async function makeNote(
  report: ReportJson,
  wish: NoteWish,
  compositePng: Uint8Array | null,
  earlier: Earlier | null = null,
  paintPart: PaintPart | null = null,
): Promise<MadeNote> {
  const note = customerNote(report, wish, earlier?.since ?? null);
  const pictures =
    compositePng === null
      ? new Map()
      : await notePictures(report, note, compositePng, earlier?.compositePng ?? null, paintPart);
  return { report, note, pictures, compositePng };
}

/** Of Markdown, `files` are the pictures that lie beside it. */
export async function noteInFormat(
  made: MadeNote,
  format: 'text' | 'markdown' | 'html' | 'pdf',
  files: MadeNote['pictures'] = new Map(),
): Promise<string | Uint8Array> {
  const { note, pictures } = made;
  if (format === 'text') return noteText(note);
  if (format === 'markdown') return noteMarkdown(note, files);
  return format === 'html' ? noteHtml(note, pictures, dataAddressOf) : notePdf(made);
}

export function dataAddressOf({ png }: NotePicture): string {
  return `data:image/png;base64,${Buffer.from(png).toString('base64')}`;
}

export async function notePdf({ report, note, pictures, compositePng }: MadeNote): Promise<Uint8Array> {
  const { renderNotePdf } = await import('../src/fixNotes/renderNotePdf.ts');
  return renderNotePdf(report, note, pictures, compositePng);
}

/** A mail that a mail program opens to be looked at and sent. */
export async function noteDraft(made: MadeNote, to: string | undefined, settings: NoteSettings): Promise<Uint8Array> {
  const { noteMail } = await import('../src/post/noteMail.ts');
  const { note, pictures } = made;
  return refusedInWords(async () =>
    noteMail(
      { note, pictures, pdf: await notePdf(made), ...addressesOfDraft(to, settings), sent: 'draft' },
      mostBytesOf(settings),
    ),
  );
}
