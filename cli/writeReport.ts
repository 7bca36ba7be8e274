import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { compositePng, platePng } from '../src/report/composite.ts';
import type { Inspection } from '../src/report/inspection.ts';
import { renderHtml } from '../src/report/renderHtml.ts';
import { renderPdf } from '../src/report/renderPdf.ts';
import { UsageError } from './usageError.ts';

/** Writes `report.json`, `report.html`, `report.pdf` and the pictures into a folder, which is made if need be. */
export async function writeReport(folder: string, inspection: Inspection): Promise<void> {
  const { report } = inspection;
  const files: Promise<[string, string | Uint8Array]>[] = [
    Promise.resolve(['report.json', `${JSON.stringify(report, null, 2)}\n`]),
    renderHtml(inspection).then((html) => ['report.html', html]),
    renderPdf(inspection).then((pdf) => ['report.pdf', pdf]),
    ...(report.plates.length === 0
      ? []
      : [compositePng(inspection).then((png): [string, Uint8Array] => ['composite.png', png])]),
    ...report.plates.map(
      async ({ id }): Promise<[string, Uint8Array]> => [`plate-${id}.png`, await platePng(inspection, id)],
    ),
  ];
  const contents = await Promise.all(files);
  try {
    await mkdir(folder, { recursive: true });
    for (const [name, content] of contents) await writeFile(join(folder, name), content);
  } catch (error) {
    throw new UsageError(
      `The report could not be written to ${folder}: ${(error as Error).message}. Choose a folder that can be written to.`,
    );
  }
}
