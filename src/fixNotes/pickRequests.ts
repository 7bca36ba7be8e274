import { digestOf } from '../report/digest.ts';
import type { Entry } from '../report/entry.ts';
import type { ReportJson } from '../report/reportJson.ts';
import { type Remedy, remedyOf } from '../report/words.ts';

export type Reader = 'customer' | 'printer';

export interface Requests {
  /** What stops the job, most important first. */
  readonly stopping: readonly Entry[];
  /** What could not be settled, most important first. */
  readonly open: readonly Entry[];
  /** How many points are left to the printer alone. */
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

/**
 * The points this reader is to act on, gathered as the report gathers them, failures apart from open questions, most
 * important first. `weFix`: checks whose findings the shop settles itself, besides those that always are.
 */
export function pickRequests(report: ReportJson, reader: Reader, weFix: readonly string[] = []): Requests {
  const isForCustomer = (entry: Entry) => isAskedOf(entry, weFix);
  const digest = digestOf(report);
  const stops = withFindings(digest.stops.flatMap(({ entries }) => entries));
  const looks = withFindings(digest.lookFirst.flatMap(({ entries }) => entries));
  const asked = reader === 'printer' ? stops : stops.filter(isForCustomer);
  const isOwn = (entry: Entry) =>
    reader === 'printer' || (isForCustomer(entry) && (entry.fold !== 'waiting' || !isAsked(entry, asked)));
  const open = looks.filter(isOwn);
  return {
    stopping: ranked(asked),
    open: ranked(open),
    leftToPrinter:
      stops.length + looks.filter((entry) => entry.fold !== 'waiting').length - asked.length - countPlain(open),
  };
}

function withFindings(entries: readonly Entry[]): Entry[] {
  return entries.filter(({ finding }) => finding !== null);
}

function countPlain(entries: readonly Entry[]): number {
  return entries.filter(({ fold }) => fold !== 'waiting').length;
}

function ranked(entries: readonly Entry[]): Entry[] {
  return entries
    .map((entry, index) => ({ entry, index }))
    .sort((a, b) => rankOf(a.entry) - rankOf(b.entry) || a.index - b.index)
    .map(({ entry }) => entry);
}

/** Whether a point is one for the customer, and not the shop's own. */
export function isAskedOf(entry: Entry, weFix: readonly string[]): boolean {
  return mayBeForCustomer(entry) && !weFix.includes(entry.check.id);
}

function mayBeForCustomer({ check, finding, fold }: Entry): boolean {
  return (fold === 'waiting' || !printersOwn.has(check.id)) && (finding?.advice.customer ?? '').trim() !== '';
}

/** What is waited on is asked for already when a request for better files names the same text or picture. */
function isAsked(waiting: Entry, requests: readonly Entry[]): boolean {
  const names = [...waiting.title.matchAll(/["“]([^"“”]+)["”]/gu)].map(([, name]) => name);
  const asked = requests.filter(({ check }) => remedyOf(check.id) === 'files').map(wordsOf);
  return names.length > 0 && asked.some((words) => names.every((name) => words.includes(name)));
}

function wordsOf({ finding }: Entry): string {
  return finding === null ? '' : [finding.advice.customer, ...finding.details].join(' ');
}

function rankOf({ check, fold }: Entry): number {
  return fold === 'waiting' ? 0 : importance.indexOf(remedyOf(check.id));
}
