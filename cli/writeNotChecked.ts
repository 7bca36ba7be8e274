import { UnreadableFilmError } from '../src/artwork/unreadableFilmError.ts';
import { crewOfOne } from '../src/inspect/crew.ts';
import { buildUnreadableReport } from '../src/report/buildUnreadableReport.ts';
import type { ReportJson } from '../src/report/reportJson.ts';
import { pdfSetter } from './pdfSetter.ts';
import { loadTicket } from './tickets.ts';
import { version } from './version.ts';
import { writeReport } from './writeReport.ts';

/** Writes the report of a job that could not be looked at: why, and what to do. */
export async function writeNotChecked(
  shopFile: string | undefined,
  folder: string,
  jobName: string,
  reason: string,
): Promise<ReportJson> {
  const remedy = 'Put right what is said here, then drop the files again. If it stays, check them by hand.';
  const report = buildUnreadableReport({
    version: version(),
    jobName,
    ticket: await loadTicket(undefined, shopFile),
    error: new UnreadableFilmError('not-checked', jobName, reason, remedy),
  });
  const crew = crewOfOne();
  await writeReport(folder, { report, pictures: { plates: new Map(), crops: [] } }, pdfSetter(crew).set);
  return report;
}
