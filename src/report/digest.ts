import type { CheckResult, Finding, Limit } from '../findings/finding.ts';
import { meshWords, originWords, thinSpace } from './format.ts';
import type { ReportJson } from './reportJson.ts';
import { type Remedy, remedyOf, remedyWords } from './words.ts';

/** A finding in its place in the report, or a check with an outcome and no finding of its own. */
export interface Entry {
  /** Address within the report: `thin-line-1`. */
  readonly anchor: string;
  readonly check: CheckResult;
  readonly finding: Finding | null;
  /** Index within `check.findings`; -1 without a finding. */
  readonly findingIndex: number;
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
      const entry = { anchor: `${check.id}-${findingIndex + 1}`, check, finding, findingIndex };
      (finding.outcome === 'fail' ? stops : lookFirst).push(entry);
    });
    if (check.findings.length === 0 && (check.outcome === 'fail' || check.outcome === 'needsReview')) {
      const entry = { anchor: check.id, check, finding: null, findingIndex: -1 };
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

/** Groups by what one would do, the group with the worst finding first, the worst finding first in each. */
function grouped(entries: readonly Entry[]): Group[] {
  const byRemedy = new Map<Remedy, Entry[]>();
  const sorted = entries
    .map((entry, index) => ({ entry, index, excess: excessOf(entry.finding) }))
    .sort((a, b) => b.excess - a.excess || a.index - b.index);
  for (const { entry } of sorted) {
    const remedy = remedyOf(entry.check.id);
    const list = byRemedy.get(remedy);
    if (list) list.push(entry);
    else byRemedy.set(remedy, [entry]);
  }
  return [...byRemedy].map(([remedy, list]) => ({ heading: remedyWords[remedy], entries: list }));
}

/** How far past its limit the worst reading lies, as a share of the limit; 0 when that cannot be said. */
function excessOf(finding: Finding | null): number {
  if (!finding?.measured || !finding.limit) return 0;
  const { value } = finding.measured;
  const limit = finding.limit.value;
  return Math.abs(value - limit) / Math.max(Math.abs(limit), Math.abs(value), 1e-6);
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
