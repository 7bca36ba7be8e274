import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { compositePng, platePng } from '../src/report/composite.ts';
import type { Inspection } from '../src/report/inspection.ts';
import { paintReport } from '../src/report/paintedReport.ts';
import { renderHtml } from '../src/report/renderHtml.ts';
import type { SetPdf } from './pdfSetter.ts';
import { UsageError } from './usageError.ts';

/**
 * Writes `report.json`, `report.html`, `report.pdf` and the pictures into a folder, which is made if need be.
 * `setPdf` may work in another thread while the rest is made here.
 */
export async function writeReport(folder: string, inspection: Inspection, setPdf: SetPdf): Promise<void> {
  const { report } = inspection;
  await written(folder, () => mkdir(folder, { recursive: true }));
  const write = async (name: string, content: string | Uint8Array | Promise<Uint8Array>) => {
    const done = await content;
    await written(folder, () => writeFile(join(folder, name), done));
  };
  const painted = await paintReport(inspection);
  await Promise.all([
    write('report.pdf', setPdf(painted)),
    ...(report.plates.length === 0 ? [] : [write('composite.png', compositePng(inspection))]),
    ...report.plates.map(({ id }) => write(`plate-${id}.png`, platePng(inspection, id))),
    write('report.html', renderHtml(painted)),
    write('report.json', `${JSON.stringify(report, null, 2)}\n`),
  ]);
}

async function written<T>(folder: string, work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    throw new UsageError(
      `The report could not be written to ${folder}: ${(error as Error).message}. Choose a folder that can be written to.`,
    );
  }
}
