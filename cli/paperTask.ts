import { readFile } from 'node:fs/promises';
import { composeNote } from '../src/fixNotes/composeNote.ts';
import type { NoteWish } from '../src/fixNotes/customerNote.ts';
import { noteChoices } from '../src/fixNotes/noteChoices.ts';
import { withLink } from '../src/fixNotes/noteLink.ts';
import { noteText } from '../src/fixNotes/noteText.ts';
import { proofFacts } from '../src/fixNotes/proofFacts.ts';
import type { NoteLanguage } from '../src/fixNotes/words/wordsIn.ts';
import type { OutgoingMail } from '../src/post/outbox.ts';
import type { ReportJson } from '../src/report/reportJson.ts';
import type { NoteFormat, PageLink, PaperSource } from '../web/server/noteDesk.ts';
import type { NoteFacts } from '../web/shared/notes.ts';
import { dataAddressOf, type MadeNote, makeNote, noteDraft, noteInFormat } from './madeNote.ts';
import { outgoingNote } from './sendNote.ts';
import type { NoteSettings } from './shopNotes.ts';
import { UsageError } from './usageError.ts';

/** A paper to be made away from the thread that answers requests; plain data. */
export type PaperTask = { readonly source: PaperSource; readonly wish: NoteWish } & (
  | { readonly what: 'facts'; readonly pageLanguage: NoteLanguage }
  | {
      readonly what: 'note';
      readonly format: NoteFormat;
      readonly to: string | undefined;
      readonly settings: NoteSettings;
    }
  | {
      readonly what: 'mail';
      readonly to: string;
      readonly settings: NoteSettings;
      readonly again: string;
      readonly link: PageLink | null;
    }
  | { readonly what: 'workList' }
  | { readonly what: 'proof' }
);

export type MadePaper =
  | Pick<NoteFacts, 'note' | 'text' | 'pictures' | 'choices' | 'hasProof'>
  | (OutgoingMail & { readonly key: string })
  | Uint8Array
  | null
  /** What is to be put right; errors lose their class on the way between threads. */
  | { readonly refused: string };

export async function makePaper(task: PaperTask): Promise<MadePaper> {
  try {
    return await made(task);
  } catch (error) {
    if (!(error instanceof UsageError)) throw error;
    return { refused: error.message };
  }
}

async function made(task: PaperTask): Promise<MadePaper> {
  const { source, wish } = task;
  const checked = JSON.parse(await readFile(source.reportFile, 'utf8')) as ReportJson;
  const report = { ...checked, decisions: source.decisions };
  if (task.what === 'workList') return Buffer.from(composeNote(report, wish));
  const compositePng = source.compositeFile === null ? null : await readFile(source.compositeFile);
  if (task.what === 'proof') return proofOf(report, wish, compositePng);
  const note = await makeNote(report, wish, compositePng);
  if (task.what === 'facts') return factsOf(note, wish, task.pageLanguage);
  if (task.what === 'mail') {
    const { link } = task;
    const linked = link === null ? note : { ...note, note: withLink(note.note, link.url, link.openUntil) };
    return outgoingNote(linked, task.to, task.settings, task.again);
  }
  if (task.format === 'eml') return noteDraft(note, task.to, task.settings);
  const format = ({ txt: 'text', md: 'markdown', html: 'html', pdf: 'pdf' } as const)[task.format];
  return Buffer.from(await noteInFormat(note, format));
}

function factsOf(made: MadeNote, wish: NoteWish, pageLanguage: NoteLanguage): MadePaper {
  const { report, note, pictures } = made;
  return {
    note,
    text: noteText(note),
    pictures: [...pictures.values()].map((picture) => {
      const { number, alt, widthPx, heightPx } = picture;
      return { number, alt, widthPx, heightPx, src: dataAddressOf(picture) };
    }),
    choices: noteChoices(report, { language: pageLanguage, units: wish.units, weFix: wish.weFix }),
    hasProof: report.error === undefined && proofFacts(report, wish) !== null && made.compositePng !== null,
  };
}

async function proofOf(
  report: ReportJson,
  wish: NoteWish,
  compositePng: Uint8Array | null,
): Promise<Uint8Array | null> {
  const facts = report.error === undefined ? proofFacts(report, wish) : null;
  if (facts === null || compositePng === null) return null;
  const { renderProof } = await import('../src/fixNotes/renderProof.ts');
  return renderProof(facts, wish, report.version, compositePng);
}
