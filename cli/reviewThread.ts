import { readFile } from 'node:fs/promises';
import { byteSourceOf } from '../src/artwork/byteSource.ts';
import { type JudgedAgain, judgeAgain, type MeasuredFacts, unpackFacts } from '../src/inspect/measuredFacts.ts';
import { repaint } from '../src/inspect/repaint.ts';
import { comparePlates, type PlateChange } from '../src/plateArchive/comparePlates.ts';
import { PlateArchive } from '../src/plateArchive/openArchive.ts';
import { paintReport } from '../src/report/paintedReport.ts';
import { renderHtml } from '../src/report/renderHtml.ts';
import type { ReportJson } from '../src/report/reportJson.ts';
import { resolveTicket } from '../src/ticket/resolveTicket.ts';
import { WrongTicketError } from '../src/ticket/ticket.ts';
import type { CompareOrder, PlateFile } from '../web/server/comparisons.ts';
import type { RenderedReport, RenderOrder } from '../web/server/decidedReports.ts';
import type { JudgeOrder } from '../web/server/judgeAgain.ts';
import { type MadePaper, makePaper, type PaperTask } from './paperTask.ts';
import { programMark } from './programMark.ts';
import { version } from './version.ts';

/** What the thread is asked. */
export type ReviewTask =
  | { readonly what: 'judge'; readonly order: JudgeOrder }
  | { readonly what: 'compare'; readonly order: CompareOrder }
  | { readonly what: 'render'; readonly order: RenderOrder }
  | { readonly what: 'paper'; readonly task: PaperTask };

/** Errors lose their class on the way between threads. */
export type JudgeAnswer =
  | JudgedAgain
  | { readonly kind: 'wrongTicket'; readonly fileName: string; readonly problems: WrongTicketError['problems'] };

/** Spread out, the facts of one job take up to some hundred megabytes. */
const mostKept = 2;
const kept = new Map<string, MeasuredFacts | null>();

/** Work of the review that would keep the thread that answers requests. */
export default function work(task: ReviewTask): Promise<JudgeAnswer | PlateChange | RenderedReport | MadePaper> {
  if (task.what === 'judge') return judge(task.order);
  if (task.what === 'paper') return makePaper(task.task);
  return task.what === 'compare' ? compare(task.order) : render(task.order);
}

async function judge({ factsFile, jobName, ticket, shop }: JudgeOrder): Promise<JudgeAnswer> {
  const facts = await factsIn(factsFile);
  if (facts === null)
    return { kind: 'notMeasured', reasons: ['They were measured by another version of the program.'] };
  try {
    const resolved = resolveTicket({ ticket: ticket ?? undefined, shop: shop ?? undefined });
    return judgeAgain(facts, { jobName: resolved.job?.value ?? jobName, ticket: resolved, version: version() });
  } catch (error) {
    if (!(error instanceof WrongTicketError)) throw error;
    return { kind: 'wrongTicket', fileName: error.fileName, problems: error.problems };
  }
}

async function factsIn(file: string): Promise<MeasuredFacts | null> {
  const known = kept.get(file);
  if (known !== undefined) return known;
  const facts = unpackFacts(await readFile(file), programMark());
  kept.set(file, facts);
  if (kept.size > mostKept) kept.delete(kept.keys().next().value!);
  return facts;
}

async function compare({ before, after, grid }: CompareOrder): Promise<PlateChange> {
  const [was, is] = await Promise.all([opened(before), opened(after)]);
  return comparePlates({ before: was, after: is }, grid);
}

async function render({ reportFile, decisions, plates }: RenderOrder): Promise<RenderedReport> {
  const checked = JSON.parse(await readFile(reportFile, 'utf8')) as ReportJson;
  const report = { ...checked, decisions };
  const archives = new Map<string, PlateArchive>();
  for (const plate of plates) archives.set(plate.plateId, (await opened(plate))!);
  const painted = await paintReport(await repaint(report, archives));
  const { renderPdf } = await import('../src/report/renderPdf.ts');
  return {
    json: Buffer.from(`${JSON.stringify(report, null, 2)}\n`),
    html: Buffer.from(renderHtml(painted)),
    pdf: await renderPdf(painted),
  };
}

/** Held in memory whole, as nearly all of it is read. */
async function opened(plate: PlateFile | null): Promise<PlateArchive | null> {
  return plate === null ? null : PlateArchive.open(plate.facts, byteSourceOf(plate.file, await readFile(plate.file)));
}
