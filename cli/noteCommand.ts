import { readFile, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { composeNote } from '../src/fixNotes/composeNote.ts';
import type { NoteUnits } from '../src/fixNotes/noteQuantities.ts';
import { usualStoreLocation } from './jobs/storeLocation.ts';
import { type MadeNote, makeNote, noteDraft, noteInFormat } from './madeNote.ts';
import { languageOf, noteWishOf } from './noteWish.ts';
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

/** Writes the note for the customer, or the printer's own work list. */
export async function noteCommand(reportFile: string, options: NoteOptions): Promise<number> {
  const report = await readReport(reportFile);
  const { settings, folder } = await noteSettings(options.shop);
  const language = languageOf(options.language ?? settings.language ?? 'en');
  const units = options.units ?? settings.units ?? 'mm';
  if (options.for === 'printer') {
    await put(options.out, `${composeNote(report, { language, units, weFix: settings.weFix ?? [] }).trimEnd()}\n`);
    return 0;
  }
  const compositePng = await readFile(join(dirname(reportFile), 'composite.png')).catch(() => null);
  const wish = noteWishOf({ ...options, answerBy: options.by }, settings);
  const made = await makeNote(report, wish, compositePng);
  if (options.send) {
    const { sendNote } = await import('./sendNote.ts');
    return sendNote(made, { ...options, store: options.store ?? usualStoreLocation() }, settings, folder);
  }
  await put(options.out, await rendered(made, options, settings));
  return 0;
}

async function rendered(made: MadeNote, options: NoteOptions, settings: NoteSettings): Promise<string | Uint8Array> {
  const { format, out } = options;
  if (format === 'eml') return noteDraft(made, options.to, settings);
  if (format !== 'markdown' || out === undefined) return noteInFormat(made, format);
  // Pictures are files beside the Markdown; on standard output there is no beside.
  for (const { fileName, png } of made.pictures.values()) await writeFile(join(dirname(out), fileName), png);
  return noteInFormat(made, format, made.pictures);
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
