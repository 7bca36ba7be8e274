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
import { readReport } from './readReport.ts';
import { type NoteSettings, noteSettings } from './shopNotes.ts';
import { UsageError } from './usageError.ts';

export interface NoteOptions {
  readonly for: 'customer' | 'printer';
  readonly format: 'text' | 'markdown' | 'html';
  readonly units?: NoteUnits;
  readonly language?: string;
  readonly customer?: string;
  /** 2030-06-24 */
  readonly by?: string;
  readonly shop?: string;
  readonly out?: string;
}

const dayMs = 86_400_000;

/** Writes the note for the customer, or the printer's own work list. */
export async function noteCommand(reportFile: string, options: NoteOptions): Promise<number> {
  const report = await readReport(reportFile);
  const { settings } = await noteSettings(options.shop);
  const language = languageOf(options.language ?? settings.language ?? 'en');
  const units = options.units ?? settings.units ?? 'mm';
  if (options.for === 'printer') {
    await put(options.out, `${composeNote(report, { language, units }).trimEnd()}\n`);
    return 0;
  }
  const note = noteFor(report, options, settings, language, units);
  const pictures = options.format === 'text' ? new Map() : await picturesOf(reportFile, report, note);
  await put(options.out, await rendered(note, pictures, options));
  return 0;
}

/** The note as plain data, by the options and what the shop has set. */
export function noteFor(
  report: ReportJson,
  options: Pick<NoteOptions, 'customer' | 'by'>,
  settings: NoteSettings,
  language: NoteLanguage,
  units: NoteUnits,
): CustomerNote {
  return customerNote(report, {
    ...{ language, units },
    customer: options.customer ?? null,
    shop: settings.shop ?? null,
    answerBy: answerBy(options.by, settings.answerDays),
    phrases: settings,
    weFix: settings.weFix ?? [],
  });
}

/** The pictures of a note, where the composite lies beside its report. */
export async function picturesOf(
  reportFile: string,
  report: ReportJson,
  note: CustomerNote,
): Promise<Map<number, NotePicture>> {
  const composite = await readFile(join(dirname(reportFile), 'composite.png')).catch(() => null);
  return composite === null ? new Map() : notePictures(report, note, composite);
}

export function languageOf(wanted: string): NoteLanguage {
  const found = noteLanguages.find((language) => language === wanted.toLowerCase());
  if (found === undefined) throw new UsageError(`Notes are written in ${noteLanguages.join(', ')}, not in ${wanted}.`);
  return found;
}

async function rendered(
  note: CustomerNote,
  pictures: ReadonlyMap<number, NotePicture>,
  { format, out }: NoteOptions,
): Promise<string> {
  if (format === 'text') return noteText(note);
  if (format === 'html')
    return noteHtml(note, pictures, ({ png }) => `data:image/png;base64,${Buffer.from(png).toString('base64')}`);
  // Pictures are files beside the Markdown; on standard output there is no beside.
  if (out === undefined) return noteMarkdown(note);
  for (const { fileName, png } of pictures.values()) await writeFile(join(dirname(out), fileName), png);
  return noteMarkdown(note, pictures);
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

async function put(out: string | undefined, text: string): Promise<void> {
  if (out === undefined) {
    process.stdout.write(text);
    return;
  }
  await writeFile(out, text).catch((error: Error) => {
    throw new UsageError(`${out} could not be written: ${error.message}.`);
  });
}
