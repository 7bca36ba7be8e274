import type { Entry } from '../report/entry.ts';
import { sizeWords } from '../report/format.ts';
import type { ReportJson } from '../report/reportJson.ts';
import { shownText } from '../report/words.ts';
import { acceptedFindings, settlingDecision, withoutSettled } from './decided.ts';
import { lengthIn, type NoteUnits } from './noteQuantities.ts';
import { pickRequests } from './pickRequests.ts';
import { inUnits, type Manner, printerItem, sentence } from './printerItem.ts';
import { type NoteLanguage, wordsIn } from './words/wordsIn.ts';

/** More than this is not read; the report has them all. */
const mostRequests = 15;
const gap = ' ';
const sameSizeMm = 0.05;

export interface WorkListWish {
  readonly language?: NoteLanguage;
  readonly units?: NoteUnits;
  /** Checks whose findings the shop settles itself. */
  readonly weFix?: readonly string[];
}

/**
 * The printer's own work list, plain text that also reads as Markdown: what the shop puts right itself first, then what
 * stops filming and what is to be looked at, each with its reading, limit, advice and place. What people accepted is
 * only counted. English readings are those of the report; with `units: 'inch'` lengths are given in inches too.
 */
export function composeNote(report: ReportJson, wish: WorkListWish = {}): string {
  const { language = 'en', units = 'mm', weFix = [] } = wish;
  return `${printerNote(report, { words: wordsIn(language), units }, weFix)
    .join('\n')
    .trimEnd()}\n`;
}

function printerNote(report: ReportJson, manner: Manner, weFix: readonly string[]): readonly string[] {
  const { words } = manner;
  const { stopping, open } = pickRequests(report, 'printer');
  const entries = [...stopping, ...open];
  const ours = entries.filter((entry) => isOurs(report, entry, weFix));
  const accepted = acceptedFindings(report);
  const rest = pickRequests(withoutSettled(report), 'printer');
  const others = (list: readonly Entry[]) => list.filter((entry) => !isOurs(report, entry, weFix));
  const questions = report.joined.filter((note) => note.open).map((note) => sentence(note.message));
  const lines = [
    `# ${words.workList('title', { job: shownText(report.job.name).trim() || '–', verdict: report.verdict })}`,
    '',
    aboutWords(report, manner),
  ];
  let number = 1;
  const part = (heading: 'ours' | 'stops' | 'look', list: readonly Entry[], first: readonly string[] = []) => {
    if (list.length + first.length === 0) return;
    lines.push('', `## ${words.workList(heading)}`, '');
    for (const one of first) lines.push(`${number++}. ${one}`);
    for (const entry of list.slice(0, mostRequests)) lines.push(`${number++}. ${printerItem(report, entry, manner)}`);
    const left = list.length - mostRequests;
    if (left > 0) lines.push('', words.workList('more', { count: left }));
  };
  part('ours', ours);
  part('stops', others(rest.stopping));
  part('look', others(rest.open), questions);
  const unsettled = [
    ...report.checks.filter((check) => check.outcome === 'couldNotRun'),
    ...report.checks.filter((check) => check.outcome === 'needsReview' && check.findings.length === 0),
  ];
  if (unsettled.length > 0) lines.push('', `## ${words.workList('notChecked')}`, '');
  for (const { id, why } of unsettled)
    lines.push(`- ${id}: ${inUnits(manner, shownText(why ?? words.workList('noReason')))}`);
  lines.push('');
  if (accepted.length > 0) lines.push(words.workList('accepted', { count: accepted.length }));
  const fine = report.checks.filter((check) => check.outcome === 'pass').length;
  lines.push(words.workList('fine', { count: fine }));
  return lines;
}

/** Whether the shop puts right all that the entry stands for: somebody took it on, or such findings always are the shop's. */
function isOurs(report: ReportJson, { check, members }: Entry, weFix: readonly string[]): boolean {
  if (members.length === 0) return false;
  const decided = members.map((member) => settlingDecision(report, member.check.id, member.finding)?.kind);
  if (decided.every((kind) => kind === 'doOurselves')) return true;
  return weFix.includes(check.id) && decided.every((kind) => kind === undefined);
}

/** The films to be made, one an ink, the files they come from, their size and the ticket. */
function aboutWords(report: ReportJson, manner: Manner): string {
  const { words, units } = manner;
  const [first, ...others] = report.films;
  const same = others.every(
    (film) =>
      Math.abs(film.widthMm - first.widthMm) < sameSizeMm && Math.abs(film.heightMm - first.heightMm) < sameSizeMm,
  );
  const sides = () =>
    words.language === 'en'
      ? inUnits(manner, sizeWords(first.widthMm, first.heightMm, gap))
      : `${lengthIn(words, units, first.widthMm)} × ${lengthIn(words, units, first.heightMm)}`;
  return words.workList('about', {
    films: report.plates.length,
    files: new Set(report.films.map(({ file }) => file)).size,
    size: first === undefined ? words.workList('noSize') : same ? sides() : words.workList('sizes'),
    ticket: report.ticket.file === null ? 'none' : shownText(report.ticket.file),
  });
}
