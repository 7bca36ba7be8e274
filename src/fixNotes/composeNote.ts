import type { Limit } from '../findings/finding.ts';
import type { Entry } from '../report/entry.ts';
import { counted, originWords, sizeWords } from '../report/format.ts';
import { inkValuesOf } from '../report/frontFacts.ts';
import { inksInShort, membersInWords } from '../report/inkWords.ts';
import { whereabouts } from '../report/placeKinds.ts';
import { readingInWords } from '../report/readingInWords.ts';
import type { ReportJson } from '../report/reportJson.ts';
import { shownText, verdictWords } from '../report/words.ts';
import { printerAdvice } from './itemWords.ts';
import type { NoteUnits } from './noteQuantities.ts';
import { pickRequests } from './pickRequests.ts';
import { type NoteLanguage, wordsIn } from './words/wordsIn.ts';
import { writeLengths } from './writeLengths.ts';

/** More than this is not read; the report has them all. */
const mostRequests = 15;
const gap = ' ';

/**
 * The printer's own work list, plain text that also reads as Markdown: everything, most important first, each with its
 * reading, limit and place. The advice is in the language asked for; with `units: 'inch'` each length is given in inches
 * too.
 */
export function composeNote(
  report: ReportJson,
  options: { readonly language?: NoteLanguage; readonly units?: NoteUnits } = {},
): string {
  const { language = 'en', units = 'mm' } = options;
  const words = wordsIn(language);
  const inUnits = (text: string) => writeLengths(text, units);
  // What the catalogue says has its lengths as they are wanted.
  const adviceOf = (entry: Entry) =>
    language === 'en' ? inUnits(printerAdvice(words, 'mm', entry)) : printerAdvice(words, units, entry);
  return `${printerNote(report, { inUnits, adviceOf }).join('\n').trimEnd()}\n`;
}

interface Manner {
  /** English text with its lengths in the units wanted. */
  readonly inUnits: (text: string) => string;
  readonly adviceOf: (entry: Entry) => string;
}

function printerNote(report: ReportJson, manner: Manner): readonly string[] {
  const { inUnits } = manner;
  const { stopping, open } = pickRequests(report, 'printer');
  const questions = openJoinNotes(report);
  const source = report.ticket.file === null ? 'shop defaults, no ticket' : `ticket ${shownText(report.ticket.file)}`;
  const lines = [
    `# ${jobName(report)}: ${verdictWords[report.verdict]}`,
    '',
    inUnits(`${filmsWords(report)}, ${source}.`),
  ];
  let number = 1;
  if (stopping.length > 0) {
    lines.push('', '## Stops filming', '');
    number = pushRequests(lines, stopping, number, (entry) => printerItem(report, entry, manner));
  }
  if (open.length + questions.length > 0) {
    lines.push('', '## Look first', '');
    for (const question of questions) lines.push(`${number++}. ${inUnits(question)}`);
    pushRequests(lines, open, number, (entry) => printerItem(report, entry, manner));
  }
  const unrun = report.checks.filter((check) => check.outcome === 'couldNotRun');
  const unsettled = report.checks.filter((check) => check.outcome === 'needsReview' && check.findings.length === 0);
  if (unrun.length + unsettled.length > 0) {
    lines.push('', '## Not checked', '');
    for (const check of [...unrun, ...unsettled]) {
      lines.push(inUnits(`- ${check.id}: ${shownText(check.why ?? 'no reason given')}`));
    }
  }
  const fine = report.checks.filter((check) => check.outcome === 'pass').length;
  lines.push('', `${counted(fine, 'check')} fine.`);
  return lines;
}

function pushRequests(
  lines: string[],
  requests: readonly Entry[],
  firstNumber: number,
  write: (entry: Entry) => string,
): number {
  let number = firstNumber;
  for (const request of requests.slice(0, mostRequests)) lines.push(`${number++}. ${write(request)}`);
  const left = requests.length - mostRequests;
  if (left > 0) lines.push('', `And ${left} more like these, all in the report.`);
  return number;
}

function printerItem(report: ReportJson, entry: Entry, { inUnits, adviceOf }: Manner): string {
  const { check, finding, fold } = entry;
  if (finding === null) return check.id;
  if (fold === 'waiting')
    return inUnits(
      joined([sentence(entry.title), finding.advice.printer, `Checks: ${sentence(finding.details.join())}`]),
    );
  const inks =
    fold === 'inks' ? `${membersInWords(entry.members)} (${inkList(entry)})` : shownText(inksInShort(finding.inkNames));
  const head = inks === '' ? check.id : `${check.id}, ${inks}`;
  const [{ check: ownCheck, finding: own }] = entry.members;
  const advice = adviceOf({ ...entry, check: ownCheck, finding: own });
  return joined([
    inUnits(`${head}: ${measuredWords(entry)}`.trimEnd()),
    sentence(advice),
    inUnits(placeWords(report, entry)),
  ]);
}

function inkList(entry: Entry): string {
  return inkValuesOf(entry, gap)
    .map(({ names, value }) => shownText(`${names.join(' / ')} ${value}`.trim()))
    .join(', ');
}

function measuredWords(entry: Entry): string {
  const { reading, limit } = readingInWords(entry, { gap });
  const given = entry.finding?.limit ?? null;
  if (reading === '' || reading === inksInShort(entry.finding?.inkNames ?? [])) return '';
  if (limit === '' || given === null) return `${reading}.`;
  return `${reading}, ${limit} (${originOf(given)}).`;
}

/** A mesh rule names the mesh first and its arithmetic after a colon; the mesh is enough here. */
function originOf(limit: Limit): string {
  const rule = shownText(limit.rule);
  return limit.from === 'mesh' ? rule.split(':')[0] : `${originWords[limit.from]}, ${rule}`;
}

/** Where the worst of it is, as one measures on the film: from its left edge and its top. */
function placeWords(report: ReportJson, { finding }: Entry): string {
  const first = finding?.places[0];
  if (!finding || first === undefined) return '';
  const { xMm, yMm } = whereabouts(first);
  const film = report.films.find((candidate) => candidate.id === first.filmId);
  const where = `${xMm.toFixed(1)} mm from the left and ${yMm.toFixed(1)} mm from the top`;
  const file = film === undefined ? '' : ` of ${shownText(film.file)}${pageWords(report, film)}`;
  return finding.placesTotal > 1
    ? `${finding.placesTotal} places; the worst is ${where}${file}.`
    : `It is ${where}${file}.`;
}

function pageWords(report: ReportJson, film: ReportJson['films'][number]): string {
  const pages = report.films.filter((candidate) => candidate.file === film.file).length;
  return pages > 1 ? `, page ${film.page}` : '';
}

function openJoinNotes(report: ReportJson): readonly string[] {
  return report.joined.filter((note) => note.open).map((note) => sentence(note.message));
}

/** The films to be made, one an ink, and the files they come from. */
function filmsWords(report: ReportJson): string {
  const files = new Set(report.films.map(({ file }) => file)).size;
  return `${counted(report.plates.length, 'film')} from ${counted(files, 'file')}, ${sizesWords(report)}`;
}

function sizesWords({ films: [first, ...others] }: ReportJson): string {
  if (first === undefined) return 'of no known size';
  const sameSize = others.every(
    (film) => Math.abs(film.widthMm - first.widthMm) < 0.05 && Math.abs(film.heightMm - first.heightMm) < 0.05,
  );
  return sameSize ? sizeWords(first.widthMm, first.heightMm, gap) : 'of different sizes';
}

function jobName(report: ReportJson): string {
  return shownText(report.job.name).trim() || 'This job';
}

function sentence(text: string): string {
  const shown = shownText(text).trim();
  return shown === '' || /[.?!…]["”]?$/u.test(shown) ? shown : `${shown}.`;
}

function joined(parts: readonly string[]): string {
  return parts.filter((part) => part !== '').join(' ');
}
