import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { UnreadableFilmError } from '../src/artwork/unreadableFilmError.ts';
import type { Verdict } from '../src/findings/outcome.ts';
import type { Crew } from '../src/inspect/crew.ts';
import { inspectAgain } from '../src/inspect/inspectAgain.ts';
import { inspectJob, type JobInput } from '../src/inspect/inspectJob.ts';
import type { Progress } from '../src/inspect/measureJob.ts';
import { allReaders } from '../src/readers/allReaders.ts';
import { buildUnreadableReport } from '../src/report/buildUnreadableReport.ts';
import type { Inspection } from '../src/report/inspection.ts';
import { renderText } from '../src/report/renderText.ts';
import { findJobFiles } from './jobFiles.ts';
import { keptInspection } from './keptInspection.ts';
import { pdfSetter } from './pdfSetter.ts';
import { plateKeeper } from './plateKeeper.ts';
import { convertPostscript } from './postscript.ts';
import { programMark } from './programMark.ts';
import { progressLine } from './progressLine.ts';
import { loadTicket } from './tickets.ts';
import { version } from './version.ts';

export interface CheckOptions {
  readonly ticket?: string;
  readonly shop?: string;
  readonly out?: string;
  readonly format: 'text' | 'json';
  readonly acceptReview?: boolean;
  readonly dpi?: number;
  readonly password?: string;
  readonly threads?: number;
  readonly quiet?: boolean;
  /** Of the job, where its ticket gives none. */
  readonly name?: string;
  readonly stages?: boolean;
  readonly keepPlates?: boolean;
  /** Folder `plates` of the report of an earlier check of these films, whose measurements are judged again. */
  readonly measured?: string;
}

/**
 * Inspects one job with a crew, which is dismissed when it is done, and returns the exit code: 0 pass, 1 fail or a look needed,
 * 2 could not run.
 */
export async function checkCommand(paths: readonly string[], options: CheckOptions, crew: Crew): Promise<number> {
  const files = await findJobFiles(paths);
  const ticketFile = options.ticket ?? files.ticketFile ?? undefined;
  const ticket = await loadTicket(ticketFile, options.shop);
  const name = ticket.job?.value ?? options.name ?? files.name;
  const progress = progressLine(process.stderr, !options.quiet);
  const stages = (stage: string, done: number, total: number) => {
    if (options.stages) process.stderr.write(`stage ${stage} ${done}/${total}\n`);
  };
  const unreadable = (error: UnreadableFilmError) =>
    buildUnreadableReport({ version: version(), jobName: name, ticket, error });
  const setter = pdfSetter(crew);
  const loadWriting = () => import('./writeReport.ts');
  const show: Progress = (stage, done, total) => {
    // What writes the report is loaded while the crew measures.
    if (options.out !== undefined && stage === 'measuring' && done === 0) void loadWriting();
    // The crew has nothing to do while the readings are judged; with no crew there is nobody to rehearse.
    if (options.out !== undefined && options.threads !== 0 && stage === 'judging') {
      setter.rehearse(unreadable(new UnreadableFilmError('unknown-format', name, '', '')));
    }
    progress.show(stage, done, total);
    stages(stage, done, total);
  };
  const keeper = options.keepPlates && options.out !== undefined ? plateKeeper(options.out, programMark()) : null;
  const write = async (inspection: Inspection) => {
    if (options.out !== undefined) {
      progress.say('writing the report');
      stages('writing', 0, 1);
      await (await loadWriting()).writeReport(options.out, inspection, setter.set);
      await keeper?.finish(inspection.report);
    }
    progress.clear();
    if (options.format === 'json') process.stdout.write(`${JSON.stringify(inspection.report, null, 2)}\n`);
  };
  const job = {
    name,
    sources: files.sources,
    ticket,
    readOptions: { dpi: options.dpi, password: options.password },
    readers: allReaders(convertPostscript),
    crew,
    version: version(),
    progress: show,
    clock: () => performance.now(),
    keep: keeper ?? undefined,
  };
  try {
    const inspection = (await judgedAgain(options.measured, job)) ?? (await inspectJob(job));
    await write(inspection);
    void crew.dismiss();
    if (options.format === 'text' && !options.quiet) {
      const reportPath = options.out === undefined ? null : join(options.out, 'report.html');
      process.stdout.write(renderText(inspection.report, { columns: columns(), colour: wantsColour(), reportPath }));
    }
    return exitCode(inspection.report.verdict, options.acceptReview ?? false);
  } catch (error) {
    progress.clear();
    if (error instanceof UnreadableFilmError) {
      await write({ report: unreadable(error), pictures: { plates: new Map(), crops: [] } });
    }
    throw error;
  }
}

/** From what an earlier check measured; null, and said why, when the films must be measured again. */
async function judgedAgain(folder: string | undefined, job: JobInput): Promise<Inspection | null> {
  if (folder === undefined) return null;
  const kept = await keptInspection(folder, programMark(), job.sources, job.readOptions.dpi);
  const again = kept.kind === 'kept' ? await inspectAgain(kept.inspection, job) : kept;
  if (again.kind === 'inspected') return again.inspection;
  process.stderr.write(`Measured again: ${again.reasons.join(' ')}\n`);
  return null;
}

function exitCode(verdict: Verdict, acceptReview: boolean): number {
  if (verdict === 'pass' || (verdict === 'needsReview' && acceptReview)) return 0;
  return verdict === 'couldNotRun' ? 2 : 1;
}

function columns(): number {
  return process.stdout.isTTY ? process.stdout.columns : 100;
}

function wantsColour(): boolean {
  return process.stdout.isTTY && !process.env.NO_COLOR;
}
