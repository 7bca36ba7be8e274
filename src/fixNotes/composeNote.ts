import type { Limit } from '../findings/finding.ts';
import type { Entry } from '../report/entry.ts';
import { counted, originWords, sizeWords } from '../report/format.ts';
import { inkValuesOf } from '../report/frontFacts.ts';
import { inksInShort, membersInWords } from '../report/inkWords.ts';
import { placeKindOf, whereabouts } from '../report/placeKinds.ts';
import { readingInWords } from '../report/readingInWords.ts';
import type { ReportJson } from '../report/reportJson.ts';
import { remedyOf, shownText, verdictWords } from '../report/words.ts';
import { pickRequests, type Reader } from './pickRequests.ts';
import { type NoteUnits, writeLengths } from './writeLengths.ts';

/** More than this is not read; the report has them all. */
const mostRequests = 15;
const mostFiles = 4;
const gap = ' ';

/**
 * The fix note of a job, plain text that also reads as Markdown: most important first, each request numbered, with its
 * number and place. The customer is asked only for what a customer can settle; the printer gets everything, with the
 * readings and limits. With `units: 'inch'` each length is given in inches too.
 */
export function composeNote(report: ReportJson, options: { readonly for: Reader; readonly units?: NoteUnits }): string {
  const lines = options.for === 'customer' ? customerNote(report) : printerNote(report);
  const text = lines.map((line) => writeLengths(line, options.units ?? 'mm')).join('\n');
  return `${text.trimEnd()}\n`;
}

function customerNote(report: ReportJson): readonly string[] {
  const { stopping, open, leftToPrinter } = pickRequests(report, 'customer');
  const questions = openJoinNotes(report);
  const lines = [
    `# ${jobName(report)}: your artwork`,
    '',
    'Hello,',
    '',
    `thank you for your artwork. Before making any film we looked at ${filesWords(report)}.`,
  ];
  if (stopping.length + open.length + questions.length === 0) {
    lines.push(...nothingNeeded(report, leftToPrinter));
    return lines;
  }
  let number = 1;
  if (stopping.length > 0) {
    lines.push('', '## Please change', '');
    number = pushRequests(lines, stopping, number, (entry) => customerItem(report, entry));
  }
  if (open.length + questions.length > 0) {
    lines.push('', '## Please tell us', '');
    for (const question of questions) lines.push(`${number++}. ${question}`);
    pushRequests(lines, open, number, (entry) => customerItem(report, entry));
  }
  if (leftToPrinter > 0) {
    lines.push('', `${counted(leftToPrinter, 'more point')} we settle here; nothing is needed from you for that.`);
  }
  lines.push(
    '',
    'Please answer in writing, by number: a new file, or "print it as it is". If nothing changes, it prints as described above. We make the films when we have your answer.',
    '',
    'Thank you.',
  );
  return lines;
}

function nothingNeeded(report: ReportJson, leftToPrinter: number): readonly string[] {
  if (report.verdict === 'pass') return ['', 'It is ready to film. Nothing is needed from you.'];
  if (report.verdict === 'couldNotRun')
    return ['', 'It is not checked to the end yet. We come back to you; nothing is needed so far.'];
  return [
    '',
    `Nothing is needed from you. ${counted(leftToPrinter, 'point')} ${leftToPrinter === 1 ? 'is' : 'are'} for us to settle.`,
  ];
}

function printerNote(report: ReportJson): readonly string[] {
  const { stopping, open } = pickRequests(report, 'printer');
  const questions = openJoinNotes(report);
  const source = report.ticket.file === null ? 'shop defaults, no ticket' : `ticket ${shownText(report.ticket.file)}`;
  const lines = [`# ${jobName(report)}: ${verdictWords[report.verdict]}`, '', `${filmsWords(report)}, ${source}.`];
  let number = 1;
  if (stopping.length > 0) {
    lines.push('', '## Stops filming', '');
    number = pushRequests(lines, stopping, number, (entry) => printerItem(report, entry));
  }
  if (open.length + questions.length > 0) {
    lines.push('', '## Look first', '');
    for (const question of questions) lines.push(`${number++}. ${question}`);
    pushRequests(lines, open, number, (entry) => printerItem(report, entry));
  }
  const unrun = report.checks.filter((check) => check.outcome === 'couldNotRun');
  const unsettled = report.checks.filter((check) => check.outcome === 'needsReview' && check.findings.length === 0);
  if (unrun.length + unsettled.length > 0) {
    lines.push('', '## Not checked', '');
    for (const check of [...unrun, ...unsettled]) {
      lines.push(`- ${check.id}: ${shownText(check.why ?? 'no reason given')}`);
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

function customerItem(report: ReportJson, entry: Entry): string {
  return joined([sentence(entry.finding?.advice.customer ?? ''), isSpot(entry) ? placeWords(report, entry) : '']);
}

/** Whether a place helps to find it: not where a whole ink is meant, nor one place of several inks. */
function isSpot({ check, finding, fold }: Entry): boolean {
  if (finding === null || fold !== 'none') return false;
  const remedy = remedyOf(check.id);
  return remedy === 'files' || remedy === 'register' || placeKindOf(check.id, finding) !== 'area';
}

function printerItem(report: ReportJson, entry: Entry): string {
  const { check, finding, fold } = entry;
  if (finding === null) return check.id;
  if (fold === 'waiting')
    return joined([sentence(entry.title), finding.advice.printer, `Checks: ${sentence(finding.details.join())}`]);
  const inks =
    fold === 'inks' ? `${membersInWords(entry.members)} (${inkList(entry)})` : shownText(inksInShort(finding.inkNames));
  const head = inks === '' ? check.id : `${check.id}, ${inks}`;
  const advice = entry.members[0].finding.advice.printer;
  return joined([`${head}: ${measuredWords(entry)}`.trimEnd(), sentence(advice), placeWords(report, entry)]);
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

/** The files as the customer sent them: `your file tee.pdf, 300 × 352 mm`. */
function filesWords(report: ReportJson): string {
  const files = [...new Set(report.films.map(({ file }) => shownText(file)))];
  if (files.length === 0) return 'your files';
  const named = files.length > mostFiles ? [...files.slice(0, mostFiles), `${files.length - mostFiles} more`] : files;
  const words = files.length === 1 ? `your file ${named[0]}` : `your ${files.length} files (${named.join(', ')})`;
  return `${words}, ${sizesWords(report)}`;
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
