import { stat, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { composeNote } from '../src/fixNotes/composeNote.ts';
import type { NoteUnits } from '../src/fixNotes/noteQuantities.ts';
import { isStoreAt, withStore } from './jobs/openStore.ts';
import { usualStoreLocation } from './jobs/storeLocation.ts';
import { type Earlier, type MadeNote, makeNote, noteDraft, noteInFormat } from './madeNote.ts';
import { linkedNote } from './noteLink.ts';
import {
  type NoteSource,
  paintPartOf,
  revisionOfFile,
  sinceRevision,
  sourceOfJob,
  sourceOfReport,
} from './noteSource.ts';
import { languageOf, noteWishOf } from './noteWish.ts';
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
  readonly blobs?: string;
  /** Report of the revision before; false: this is a first note whatever the store knows. */
  readonly since?: string | false;
  /** False: without a link to the customer's page. */
  readonly link?: boolean;
}

/** Writes the note for the customer, or the printer's own work list. `about`: a report.json, or a job of the store. */
export async function noteCommand(about: string, options: NoteOptions): Promise<number> {
  const source = await noteSource(about, options);
  const { report, compositePng } = source.after;
  const { settings, folder } = await noteSettings(options.shop);
  const language = languageOf(options.language ?? settings.language ?? 'en');
  const units = options.units ?? settings.units ?? 'mm';
  if (options.for === 'printer') {
    await put(options.out, `${composeNote(report, { language, units, weFix: settings.weFix ?? [] }).trimEnd()}\n`);
    return 0;
  }
  const wish = noteWishOf({ language, units, customer: options.customer, answerBy: options.by }, settings);
  const earlier = await earlierOf(source);
  const unlinked = await makeNote(report, wish, compositePng, earlier, paintPartOf(source.after));
  const store = options.store ?? usualStoreLocation();
  const { note, linkId } = await linkedNote(unlinked.note, about, { ...options, store });
  const made = { ...unlinked, note };
  if (options.send) {
    const { sendNote } = await import('./sendNote.ts');
    return sendNote(made, { ...options, store, linkId }, settings, folder);
  }
  await put(options.out, await rendered(made, options, settings));
  return 0;
}

/** The revision before with what became of it; null for a first note. */
async function earlierOf({ after, before }: NoteSource): Promise<Earlier | null> {
  if (before === null) return null;
  const { since, isArtCompared } = await sinceRevision(before, after);
  if (!isArtCompared)
    process.stderr.write(
      'The plates of one of the two were not kept, so what else changed in the art is not told. Check with --keep-plates.\n',
    );
  return { since, compositePng: before.compositePng };
}

/** The report that is meant, and that of the revision before: the one given, or the one the store knows. */
async function noteSource(about: string, { since, store, blobs }: NoteOptions): Promise<NoteSource> {
  const isFile = await stat(about).then(
    (found) => found.isFile(),
    () => false,
  );
  if (typeof since === 'string') return { after: await revisionOfFile(about), before: await revisionOfFile(since) };
  const choice = { store: store ?? usualStoreLocation(), ...(blobs !== undefined && { blobs }) };
  const hasStore = await isStoreAt(choice.store);
  if (!isFile && hasStore) {
    const source = await withStore(choice, 'all', (opened) => sourceOfJob(opened, about));
    return since === false ? { ...source, before: null } : source;
  }
  const own = { after: await revisionOfFile(about), before: null };
  if (since === false || !hasStore) return own;
  return (await withStore(choice, 'all', (opened) => sourceOfReport(opened, about))) ?? own;
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
