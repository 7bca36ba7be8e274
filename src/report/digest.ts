import type { CheckResult, Limit } from '../findings/finding.ts';
import { bareEntry, type Entry, type Member } from './entry.ts';
import { excessOf } from './failingSide.ts';
import { foldAlike } from './foldAlike.ts';
import { foldWaiting, isWaiting } from './foldWaiting.ts';
import { meshWords, originWords, thinSpace } from './format.ts';
import type { ReportJson } from './reportJson.ts';
import { remedyOf, remedyWords, waitingHeading } from './words.ts';

export interface Group {
  readonly heading: string;
  readonly entries: readonly Entry[];
}

/** The report sorted for reading. Every check is in exactly one of the lists or has its findings in the first two. */
export interface Digest {
  readonly stops: readonly Group[];
  readonly lookFirst: readonly Group[];
  readonly openJoins: ReportJson['joined'];
  readonly fine: readonly CheckResult[];
  readonly couldNotRun: readonly CheckResult[];
  readonly notApplicable: readonly CheckResult[];
  readonly stopsTotal: number;
  readonly lookFirstTotal: number;
}

/** Sorts checks and findings into the order in which every output shows them. */
export function digestOf(report: ReportJson): Digest {
  const stops: Entry[] = [];
  const lookFirst: Entry[] = [];
  const waiting: Member[] = [];
  for (const check of report.checks) {
    if (check.outcome === 'couldNotRun') continue;
    const members = check.findings.map((finding, findingIndex) => ({ check, finding, findingIndex }));
    waiting.push(...members.filter(({ finding }) => isWaiting(finding)));
    for (const entry of foldAlike(members.filter(({ finding }) => !isWaiting(finding)))) {
      (entry.finding?.outcome === 'fail' ? stops : lookFirst).push(entry);
    }
    if (check.findings.length === 0 && (check.outcome === 'fail' || check.outcome === 'needsReview')) {
      (check.outcome === 'fail' ? stops : lookFirst).push(bareEntry(check));
    }
  }
  const waits = foldWaiting(waiting);
  const openJoins = report.joined.filter((note) => note.open);
  return {
    stops: grouped(stops),
    lookFirst: [...(waits.length > 0 ? [{ heading: waitingHeading, entries: waits }] : []), ...grouped(lookFirst)],
    openJoins,
    fine: report.checks.filter((check) => check.outcome === 'pass'),
    couldNotRun: report.checks.filter((check) => check.outcome === 'couldNotRun'),
    notApplicable: report.checks.filter((check) => check.outcome === 'notApplicable'),
    stopsTotal: stops.length,
    lookFirstTotal: waits.length + lookFirst.length + openJoins.length,
  };
}

/** Entries of one check that are set with pictures. */
const fullEntriesPerCheck = 3;

/** Groups by what one would do; groups, checks within them and findings within those all with the worst first. */
function grouped(entries: readonly Entry[]): Group[] {
  const sorted = entries
    .map((entry, index) => ({ entry, index, excess: excessOf(entry.check, entry.finding) }))
    .sort((a, b) => b.excess - a.excess || a.index - b.index)
    .map(({ entry }) => entry);
  const byRemedy = gatheredBy(sorted, (entry) => remedyOf(entry.check.id));
  return [...byRemedy].map(([remedy, list]) => {
    const byCheck = [...gatheredBy(list, (entry) => entry.check.id).values()];
    const ordered = byCheck.flatMap((ofCheck) =>
      ofCheck.map((entry, index) => ({ ...entry, isBrief: index >= fullEntriesPerCheck })),
    );
    return { heading: remedyWords[remedy], entries: ordered };
  });
}

function gatheredBy<K>(entries: readonly Entry[], keyOf: (entry: Entry) => K): Map<K, Entry[]> {
  const lists = new Map<K, Entry[]>();
  for (const entry of entries) {
    const key = keyOf(entry);
    const list = lists.get(key);
    if (list) list.push(entry);
    else lists.set(key, [entry]);
  }
  return lists;
}

/** The mesh on the frame of an ink, or null when none is known. */
export function meshOf(report: ReportJson, inkName: string): ReportJson['ticket']['screens'][number]['mesh'] {
  return report.ticket.screens.find((frame) => frame.ink === inkName)?.mesh ?? null;
}

/** Where a limit comes from in a few words: "mesh 43/cm, 80 µm", "your ticket", "shop default". */
export function limitOriginWords(
  report: ReportJson,
  limit: Limit,
  inkNames: readonly string[],
  gap = thinSpace,
): string {
  if (limit.from !== 'mesh') return originWords[limit.from];
  const meshes = new Set(
    inkNames
      .map((name) => meshOf(report, name))
      .filter((mesh) => mesh !== null)
      .map((mesh) => meshWords(mesh, gap)),
  );
  return meshes.size === 1 ? `mesh ${[...meshes][0]}` : originWords.mesh;
}

/** The job's print size: the largest film in each direction. */
export function jobSizeMm(report: ReportJson): { readonly widthMm: number; readonly heightMm: number } | null {
  if (report.films.length === 0) return null;
  return {
    widthMm: Math.max(...report.films.map((film) => film.widthMm)),
    heightMm: Math.max(...report.films.map((film) => film.heightMm)),
  };
}

/** What the limits were taken from, in a few words. */
export function ticketWords(report: ReportJson): string {
  if (report.ticket.file !== null) return `ticket ${report.ticket.file}`;
  return report.ticket.shopFile !== null ? `${report.ticket.shopFile}, no ticket` : 'shop defaults, no ticket';
}
