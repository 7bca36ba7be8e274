import { readFile, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { composeNote } from '../src/fixNotes/composeNote.ts';
import { type CustomerNote, customerNote } from '../src/fixNotes/customerNote.ts';
import { noteHtml } from '../src/fixNotes/noteHtml.ts';
import { noteMarkdown } from '../src/fixNotes/noteMarkdown.ts';
import { type NotePicture, notePictures } from '../src/fixNotes/notePicture.ts';
import type { NoteUnits } from '../src/fixNotes/noteQuantities.ts';
import { noteText } from '../src/fixNotes/noteText.ts';
import { type NoteLanguage, noteLanguages } from '../src/fixNotes/words/wordsIn.ts';
import type { ReportJson } from '../src/report/reportJson.ts';
import { usualStoreLocation } from './jobs/storeLocation.ts';
import { addressesOf, mostBytesOf, refusedInWords } from './noteAddresses.ts';
import { readReport } from './readReport.ts';
import { type NoteSettings, noteSettings } from './shopNotes.ts';
import { UsageError } from './usageError.ts';

export interface NoteOptions {
  readonly for: 'customer' | 'printer';
  readonly format: 'text' | 'markdown' | 'html' | 'pdf' | 'eml';
  readonly units?: NoteUnits;
  readonly language?: string;
  readonly customer?: string;
  /** 2030-06-24 */
  readonly by?: string;
  readonly shop?: string;
  readonly out?: string;
  /** The customer's mail address. */
  readonly to?: string;
  /** Send it through the shop's mail server. */
  readonly send?: boolean;
  readonly again?: boolean;
  readonly store?: string;
}

const dayMs = 86_400_000;

/** Writes the note for the customer, or the printer's own work list. */
export async function noteCommand(reportFile: string, options: NoteOptions): Promise<number> {
  const report = await readReport(reportFile);
  const { settings, folder } = await noteSettings(options.shop);
  const language = languageOf(options.language ?? settings.language ?? 'en');
  const units = options.units ?? settings.units ?? 'mm';
  if (options.for === 'printer') {
    await put(options.out, `${composeNote(report, { language, units }).trimEnd()}\n`);
    return 0;
  }
  const made = await makeNote(reportFile, report, options, settings);
  if (options.send) {
    const { sendNote } = await import('./sendNote.ts');
    return sendNote(made, { ...options, store: options.store ?? usualStoreLocation() }, settings, folder);
  }
  await put(options.out, await rendered(made, options, settings));
  return 0;
}

/** A note with all that its renderings show. */
export interface MadeNote {
  readonly report: ReportJson;
  readonly note: CustomerNote;
  readonly pictures: ReadonlyMap<number, NotePicture>;
  /** What lies beside the report; null where nothing does. */
  readonly compositePng: Uint8Array | null;
}

export async function makeNote(
  reportFile: string,
  report: ReportJson,
  options: Pick<NoteOptions, 'customer' | 'by' | 'language' | 'units'>,
  settings: NoteSettings,
): Promise<MadeNote> {
  const note = noteFor(report, options, settings);
  const compositePng = await readFile(join(dirname(reportFile), 'composite.png')).catch(() => null);
  const pictures = compositePng === null ? new Map() : await notePictures(report, note, compositePng);
  return { report, note, pictures, compositePng };
}

/** The note as plain data, by the options and what the shop has set. */
function noteFor(
  report: ReportJson,
  options: Pick<NoteOptions, 'customer' | 'by' | 'language' | 'units'>,
  settings: NoteSettings,
): CustomerNote {
  return customerNote(report, {
    language: languageOf(options.language ?? settings.language ?? 'en'),
    units: options.units ?? settings.units ?? 'mm',
    customer: options.customer ?? null,
    shop: settings.shop ?? null,
    answerBy: answerBy(options.by, settings.answerDays),
    phrases: settings,
    weFix: settings.weFix ?? [],
  });
}

export function languageOf(wanted: string): NoteLanguage {
  const found = noteLanguages.find((language) => language === wanted.toLowerCase());
  if (found === undefined) throw new UsageError(`Notes are written in ${noteLanguages.join(', ')}, not in ${wanted}.`);
  return found;
}

async function rendered(made: MadeNote, options: NoteOptions, settings: NoteSettings): Promise<string | Uint8Array> {
  const { note, pictures } = made;
  const { format, out } = options;
  if (format === 'text') return noteText(note);
  if (format === 'html')
    return noteHtml(note, pictures, ({ png }) => `data:image/png;base64,${Buffer.from(png).toString('base64')}`);
  if (format === 'pdf') return notePdf(made);
  if (format === 'eml') return noteDraft(made, options, settings);
  // Pictures are files beside the Markdown; on standard output there is no beside.
  if (out === undefined) return noteMarkdown(note);
  for (const { fileName, png } of pictures.values()) await writeFile(join(dirname(out), fileName), png);
  return noteMarkdown(note, pictures);
}

export async function notePdf({ report, note, pictures, compositePng }: MadeNote): Promise<Uint8Array> {
  const { renderNotePdf } = await import('../src/fixNotes/renderNotePdf.ts');
  return renderNotePdf(report, note, pictures, compositePng);
}

/** A mail that a mail program opens to be looked at and sent. */
async function noteDraft(made: MadeNote, { to }: NoteOptions, settings: NoteSettings): Promise<Uint8Array> {
  const { noteMail } = await import('../src/post/noteMail.ts');
  const { note, pictures } = made;
  return refusedInWords(async () =>
    noteMail(
      { note, pictures, pdf: await notePdf(made), ...addressesOf(to, settings), sent: 'draft' },
      mostBytesOf(settings),
    ),
  );
}

/** The day that is named, or so many days from today. */
function answerBy(day: string | undefined, days: number | undefined): { day: string; days: number } | null {
  const today = Date.now();
  if (day !== undefined) {
    const at = /^\d{4}-\d\d-\d\d$/.test(day) ? Date.parse(`${day}T00:00:00Z`) : Number.NaN;
    if (Number.isNaN(at)) throw new UsageError(`--by takes a day such as 2030-06-24, not ${day}.`);
    return { day, days: Math.max(0, Math.ceil((at - today) / dayMs)) };
  }
  return days === undefined ? null : { day: new Date(today + days * dayMs).toISOString().slice(0, 10), days };
}

async function put(out: string | undefined, text: string | Uint8Array): Promise<void> {
  if (out === undefined) {
    process.stdout.write(text);
    return;
  }
  await writeFile(out, text).catch((error: Error) => {
    throw new UsageError(`${out} could not be written: ${error.message}.`);
  });
}
