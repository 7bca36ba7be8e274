import { readFile } from 'node:fs/promises';
import type { ReportJson } from '../src/report/reportJson.ts';
import { UsageError } from './usageError.ts';

const schema: ReportJson['schema'] = 'plateglass/report/1';

/** Reads a report.json that an earlier check wrote. */
export async function readReport(file: string): Promise<ReportJson> {
  const text = await readFile(file, 'utf8').catch(() => '');
  return parseReport(text, file);
}

/** A report from its text; `file` is how it is called where it is none. */
export function parseReport(text: string, file: string): ReportJson {
  let report: unknown;
  try {
    report = JSON.parse(text);
  } catch {
    throw new UsageError(`${file} is not there, or is not a report. Give the report.json that a check wrote.`);
  }
  if ((report as Partial<ReportJson> | null)?.schema !== schema) {
    throw new UsageError(`${file} is not a report of this version (${schema}). Run the check again.`);
  }
  return report as ReportJson;
}
