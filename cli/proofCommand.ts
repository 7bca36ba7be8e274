import { readFile, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import type { NoteUnits } from '../src/fixNotes/noteQuantities.ts';
import { proofFacts } from '../src/fixNotes/proofFacts.ts';
import { renderProof } from '../src/fixNotes/renderProof.ts';
import { languageOf } from './noteWish.ts';
import { readReport } from './readReport.ts';
import { noteSettings } from './shopNotes.ts';
import { UsageError } from './usageError.ts';

export interface ProofOptions {
  readonly out: string;
  readonly language?: string;
  readonly units?: NoteUnits;
  readonly shop?: string;
}

/** Writes the page that the customer signs before anything is filmed. */
export async function proofCommand(reportFile: string, options: ProofOptions): Promise<number> {
  const report = await readReport(reportFile);
  const { settings } = await noteSettings(options.shop);
  const wish = {
    language: languageOf(options.language ?? settings.language ?? 'en'),
    units: options.units ?? settings.units ?? 'mm',
    shop: settings.shop ?? null,
    weFix: settings.weFix ?? [],
  };
  const composite = await readFile(join(dirname(reportFile), 'composite.png')).catch(() => {
    throw new UsageError(
      `composite.png does not lie beside ${reportFile}. Run the check with --out, and give its report.`,
    );
  });
  const facts = report.error === undefined ? proofFacts(report, wish) : null;
  if (facts === null)
    throw new UsageError('There is nothing to approve yet: a film could not be opened, or its size is not known.');
  const pdf = await renderProof(facts, wish, report.version, composite);
  await writeFile(options.out, pdf).catch((error: Error) => {
    throw new UsageError(`${options.out} could not be written: ${error.message}.`);
  });
  return 0;
}
