import type { CheckResult, Finding } from '../findings/finding.ts';
import type { ReportJson } from '../report/reportJson.ts';
import { type Remedy, remedyOf } from '../report/words.ts';

export type Reader = 'customer' | 'printer';

/** One finding of one check that its reader can do something about. */
export interface Request {
  readonly check: CheckResult;
  readonly finding: Finding;
}

export interface Requests {
  /** What stops the job, most important first. */
  readonly stopping: readonly Request[];
  /** What could not be settled, most important first. */
  readonly open: readonly Request[];
  /** How many findings are left to the printer alone. */
  readonly leftToPrinter: number;
}

/** A wrong file costs every film, a wrong ink a frame, a thin line a detail: asked in that order. */
const importance: readonly Remedy[] = [
  'files',
  'inks',
  'register',
  'opacity',
  'detail',
  'overlap',
  'tone',
  'press',
  'other',
];

/** Findings the customer can do nothing about: they are settled with mesh, halftone and press. */
const printersOwn: ReadonlySet<string> = new Set([
  'unused-ink',
  'ink-not-on-ticket',
  'coarse-mesh-for-ruling',
  'mesh-moire',
  'angle-clash',
  'too-many-stations',
  'print-order',
]);

/** The findings this reader is to act on, failures apart from open questions, most important first. */
export function pickRequests(report: ReportJson, reader: Reader): Requests {
  const all = report.checks.flatMap((check) => check.findings.map((finding) => ({ check, finding })));
  const own = reader === 'printer' ? all : all.filter(isForCustomer);
  const ranked = own
    .map((request, index) => ({ request, index }))
    .sort((a, b) => rankOf(a.request) - rankOf(b.request) || a.index - b.index)
    .map(({ request }) => request);
  return {
    stopping: ranked.filter(({ finding }) => finding.outcome === 'fail'),
    open: ranked.filter(({ finding }) => finding.outcome === 'needsReview'),
    leftToPrinter: all.length - own.length,
  };
}

function isForCustomer({ check, finding }: Request): boolean {
  return !printersOwn.has(check.id) && finding.advice.customer.trim() !== '';
}

function rankOf({ check }: Request): number {
  return importance.indexOf(remedyOf(check.id));
}
