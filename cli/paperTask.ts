import { readFile } from 'node:fs/promises';
import { byteSourceOf } from '../src/artwork/byteSource.ts';
import { composeNote } from '../src/fixNotes/composeNote.ts';
import type { NoteWish } from '../src/fixNotes/customerNote.ts';
import { noteChoices } from '../src/fixNotes/noteChoices.ts';
import { withLink } from '../src/fixNotes/noteLink.ts';
import type { PaintPart } from '../src/fixNotes/notePicture.ts';
import { noteText } from '../src/fixNotes/noteText.ts';
import { proofFacts } from '../src/fixNotes/proofFacts.ts';
import type { NoteLanguage } from '../src/fixNotes/words/wordsIn.ts';
import { PlateArchive } from '../src/plateArchive/openArchive.ts';
import type { OutgoingMail } from '../src/post/outbox.ts';
import type { ReportJson } from '../src/report/reportJson.ts';
import type { NoteFormat, PageLink, PaperFiles, PaperSource } from '../web/server/noteDesk.ts';
import type { NoteFacts } from '../web/shared/notes.ts';
import { dataAddressOf, type Earlier, type MadeNote, makeNote, noteDraft, noteInFormat } from './madeNote.ts';
import { type CheckedRevision, paintPartOf, sinceRevision } from './noteSource.ts';
import { outgoingNote } from './sendNote.ts';
import type { NoteSettings } from './shopNotes.ts';
import { UsageError } from './usageError.ts';

/** A paper to be made away from the thread that answers requests; plain data. */
export type PaperTask = {
  readonly source: PaperSource;
  readonly wish: NoteWish;
  /** Whether the note tells what became of the revision before. */
  readonly tellsBefore: boolean;
} & (
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
  | Pick<NoteFacts, 'note' | 'text' | 'pictures' | 'choices' | 'hasBefore' | 'hasProof'>
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
  const earlier = task.tellsBefore ? await earlierOf(source) : null;
  const note = await makeNote(report, wish, compositePng, earlier, paintPartFrom(source, report));
  if (task.what === 'facts') return factsOf(note, task, task.pageLanguage);
  if (task.what === 'mail') {
    const { link } = task;
    const linked = link === null ? note : { ...note, note: withLink(note.note, link.url, link.openUntil) };
    return outgoingNote(linked, task.to, task.settings, task.again);
  }
  if (task.format === 'eml') return noteDraft(note, task.to, task.settings);
  const format = ({ txt: 'text', md: 'markdown', html: 'html', pdf: 'pdf' } as const)[task.format];
  return Buffer.from(await noteInFormat(note, format));
}

/** Parts that were painted, for the same reason as below. */
const mostPainted = 24;
const painted = new Map<string, Promise<Uint8Array>>();

function paintPartFrom({ reportFile, plates }: PaperSource, report: ReportJson): PaintPart | null {
  const paint = paintPartOf({ report, compositePng: null, art: artIn(plates) });
  if (paint === null) return null;
  return (boxMm, sidePx) => {
    const key = JSON.stringify([reportFile, boxMm, sidePx]);
    const known = painted.get(key) ?? paint(boxMm, sidePx);
    painted.set(key, known);
    if (painted.size > mostPainted) painted.delete(painted.keys().next().value!);
    return known;
  };
}

/** Revisions that were compared; while a note is written the same two are asked for again and again. */
const mostCompared = 4;
const compared = new Map<string, Promise<Earlier | null>>();

/** The revision before with what became of it; null where there is none that was read. */
function earlierOf(source: PaperSource): Promise<Earlier | null> {
  const { before } = source;
  if (before === null) return Promise.resolve(null);
  const key = JSON.stringify([before.reportFile, source.reportFile]);
  const known = compared.get(key);
  if (known !== undefined) return known;
  const comparing = compareTo(before, source);
  compared.set(key, comparing);
  comparing.catch(() => compared.delete(key));
  if (compared.size > mostCompared) compared.delete(compared.keys().next().value!);
  return comparing;
}

async function compareTo(before: PaperFiles, after: PaperFiles): Promise<Earlier | null> {
  const [was, is] = await Promise.all([checkedIn(before), checkedIn(after)]);
  if (was.report.error !== undefined) return null;
  return { since: (await sinceRevision(was, is)).since, compositePng: was.compositePng };
}

async function checkedIn({ reportFile, compositeFile, plates }: PaperFiles): Promise<CheckedRevision> {
  return {
    report: JSON.parse(await readFile(reportFile, 'utf8')) as ReportJson,
    compositePng: compositeFile === null ? null : await readFile(compositeFile),
    art: artIn(plates),
  };
}

function artIn(plates: PaperFiles['plates']): CheckedRevision['art'] {
  const fileOf = new Map(plates.map(({ facts, file }) => [facts.plateId, file]));
  if (plates.length === 0) return null;
  return {
    plates: plates.map(({ facts }) => facts),
    open: async (plate) => {
      const bytes = await readFile(fileOf.get(plate.plateId)!);
      return PlateArchive.open(plate, byteSourceOf(plate.file, bytes));
    },
  };
}

function factsOf(made: MadeNote, { wish, source }: PaperTask, pageLanguage: NoteLanguage): MadePaper {
  const { report, note, pictures } = made;
  return {
    note,
    text: noteText(note),
    pictures: [...pictures.values()].map((picture) => {
      const { number, alt, widthPx, heightPx } = picture;
      return { number, alt, widthPx, heightPx, src: dataAddressOf(picture) };
    }),
    choices: noteChoices(report, { language: pageLanguage, units: wish.units, weFix: wish.weFix }),
    hasBefore: source.before !== null,
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
