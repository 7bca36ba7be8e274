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
  await written(folder, () => mkdir(folder, { recursive: true }));
  const write = async (name: string, content: Promise<string | Uint8Array>) => {
    const done = await content;
    await written(folder, () => writeFile(join(folder, name), done));
  };
  // The pictures come first: other threads pack them while the rest is set.
  await Promise.all([
    ...(report.plates.length === 0 ? [] : [write('composite.png', compositePng(inspection))]),
    ...report.plates.map(({ id }) => write(`plate-${id}.png`, platePng(inspection, id))),
    write('report.html', renderHtml(inspection)),
    write('report.pdf', renderPdf(inspection)),
    write('report.json', Promise.resolve(`${JSON.stringify(report, null, 2)}\n`)),
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
