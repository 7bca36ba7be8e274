import type { CheckResult, Finding, Limit } from '../findings/finding.ts';
import { meshWords, originWords, thinSpace } from './format.ts';
import type { ReportJson } from './reportJson.ts';
import { remedyOf, remedyWords } from './words.ts';

/** A finding in its place in the report, or a check with an outcome and no finding of its own. */
export interface Entry {
  /** Address within the report: `thin-line-1`. */
  readonly anchor: string;
  readonly check: CheckResult;
  readonly finding: Finding | null;
  /** Index within `check.findings`; -1 without a finding. */
  readonly findingIndex: number;
  /** Set without pictures: three of the same check stand before it. */
  readonly isBrief: boolean;
}

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
  for (const check of report.checks) {
    if (check.outcome === 'couldNotRun') continue;
    check.findings.forEach((finding, findingIndex) => {
      const entry = { anchor: `${check.id}-${findingIndex + 1}`, check, finding, findingIndex, isBrief: false };
      (finding.outcome === 'fail' ? stops : lookFirst).push(entry);
    });
    if (check.findings.length === 0 && (check.outcome === 'fail' || check.outcome === 'needsReview')) {
      const entry = { anchor: check.id, check, finding: null, findingIndex: -1, isBrief: false };
      (check.outcome === 'fail' ? stops : lookFirst).push(entry);
    }
  }
  const openJoins = report.joined.filter((note) => note.open);
  return {
    stops: grouped(stops),
    lookFirst: grouped(lookFirst),
    openJoins,
    fine: report.checks.filter((check) => check.outcome === 'pass'),
    couldNotRun: report.checks.filter((check) => check.outcome === 'couldNotRun'),
    notApplicable: report.checks.filter((check) => check.outcome === 'notApplicable'),
    stopsTotal: stops.length,
    lookFirstTotal: lookFirst.length + openJoins.length,
  };
}

/** Entries of one check that are set with pictures. */
const fullEntriesPerCheck = 3;

/** Groups by what one would do; groups, checks within them and findings within those all with the worst first. */
function grouped(entries: readonly Entry[]): Group[] {
  const sorted = entries
    .map((entry, index) => ({ entry, index, excess: excessOf(entry) }))
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

/** How far past its limit the worst reading lies, as a share of the larger of both; 0 when that cannot be said. */
function excessOf({ check, finding }: Entry): number {
  if (!finding?.measured || !finding.limit) return 0;
  const { value } = finding.measured;
  const limit = finding.limit.value;
  const side = failingSideOf(check, finding);
  const past = side === 'below' ? limit - value : side === 'above' ? value - limit : 0;
  return past / Math.max(Math.abs(limit), Math.abs(value), 1e-6);
}

/** On which side of the limit it fails; null when that is not known. */
export type FailingSide = 'below' | 'above' | null;

/** The side on which a finding's reading fails. */
export function failingSideOf(check: CheckResult, finding: Finding): FailingSide {
  const said = sideOf(finding.worse ?? check.worse);
  if (said !== null || !finding.measured || !finding.limit || finding.outcome !== 'fail') return said;
  return sideOfFailure(finding.measured.value, finding.limit.value);
}

/** The side on which a passed check would have failed. */
export function failingSideOfPassed(check: CheckResult): FailingSide {
  const said = sideOf(check.worse);
  if (said !== null || !check.tightest) return said;
  return sideOfFailure(check.tightest.limit.value, check.tightest.value);
}

function sideOf(worse: 'less' | 'more' | undefined): FailingSide {
  return worse === 'less' ? 'below' : worse === 'more' ? 'above' : null;
}

/** Reports written before the side was told: a value that fails lies on the failing side. */
function sideOfFailure(failing: number, limit: number): FailingSide {
  return failing < limit ? 'below' : failing > limit ? 'above' : null;
}

/** `needs` where less fails, `allows` where more fails, `limit` where neither can be said. */
export function limitVerb(side: FailingSide): string {
  return side === 'below' ? 'needs' : side === 'above' ? 'allows' : 'limit';
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

/** Inks in a few words: their names, or their number when there are more than three. */
export function inksInShort(names: readonly string[]): string {
  return names.length > 3 ? `${names.length} inks` : names.join(' / ');
}

/** Whether these are all the inks that print, and more than one would name one by one. */
export function isEveryInk(report: ReportJson, names: readonly string[]): boolean {
  const printed = report.inks.filter((ink) => ink.printed);
  return names.length > 3 && printed.every((ink) => names.includes(ink.name));
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
