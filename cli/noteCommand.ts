import { composeNote } from '../src/fixNotes/composeNote.ts';
import { readReport } from './readReport.ts';

/** Prints the note for the customer or the printer's own work list. */
export async function noteCommand(
  reportFile: string,
  options: { readonly for: 'customer' | 'printer'; readonly units: 'mm' | 'inch' },
): Promise<number> {
  process.stdout.write(`${composeNote(await readReport(reportFile), options).trimEnd()}\n`);
  return 0;
}
