import type { Finding } from '../findings/finding.ts';
import { counted, decimalsFor, originWords, quantity, readingWords, sizeWords } from '../report/format.ts';
import type { ReportJson } from '../report/reportJson.ts';
import { shownText, verdictWords } from '../report/words.ts';
import { pickRequests, type Reader, type Request } from './pickRequests.ts';
import { type NoteUnits, writeLengths } from './writeLengths.ts';

/** More than this is not read; the report has them all. */
const mostRequests = 15;
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
    `Before making any film we looked at ${filmsWords(report)}.`,
  ];
  if (stopping.length + open.length + questions.length === 0) {
    lines.push(...nothingNeeded(report, leftToPrinter));
    return lines;
  }
  let number = 1;
  if (stopping.length > 0) {
    lines.push('', '## Please change', '');
    number = pushRequests(lines, stopping, number, (request) => customerItem(report, request));
  }
  if (open.length + questions.length > 0) {
    lines.push('', '## Please tell us', '');
    for (const question of questions) lines.push(`${number++}. ${question}`);
    pushRequests(lines, open, number, (request) => customerItem(report, request));
  }
  if (leftToPrinter > 0) {
    lines.push('', `${counted(leftToPrinter, 'more point')} we settle here; nothing is needed from you for that.`);
  }
  lines.push(
    '',
    'Please answer in writing, by number: a new file, or "print it as it is". If nothing changes, it prints as described above. We make the films when we have your answer.',
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
  const lines = [
    `# ${jobName(report)}: ${verdictWords[report.verdict]}`,
    '',
    `${capitalised(filmsWords(report))}, ${source}.`,
  ];
  let number = 1;
  if (stopping.length > 0) {
    lines.push('', '## Stops filming', '');
    number = pushRequests(lines, stopping, number, (request) => printerItem(report, request));
  }
  if (open.length + questions.length > 0) {
    lines.push('', '## Look first', '');
    for (const question of questions) lines.push(`${number++}. ${question}`);
    pushRequests(lines, open, number, (request) => printerItem(report, request));
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
  requests: readonly Request[],
  firstNumber: number,
  write: (request: Request) => string,
): number {
  let number = firstNumber;
  for (const request of requests.slice(0, mostRequests)) lines.push(`${number++}. ${write(request)}`);
  const left = requests.length - mostRequests;
  if (left > 0) lines.push('', `And ${left} more like these, all in the report.`);
  return number;
}

function customerItem(report: ReportJson, { finding }: Request): string {
  return joined([sentence(finding.advice.customer), placeWords(report, finding)]);
}

function printerItem(report: ReportJson, { check, finding }: Request): string {
  const inks = finding.inkNames.map(shownText).join(' / ');
  const head = inks === '' ? check.id : `${check.id}, ${inks}`;
  return joined([
    `${head}: ${measuredWords(finding)}`.trimEnd(),
    sentence(finding.advice.printer),
    placeWords(report, finding),
  ]);
}

function measuredWords(finding: Finding): string {
  const { measured, limit } = finding;
  if (measured === null) return limit === null ? '' : `limit ${limitWords(limit, [limit.value])}.`;
  const numbers = limit === null ? [measured.value] : [measured.value, limit.value];
  const reading = readingWords(measured, decimalsFor(measured.unit, numbers, measured.plusMinus), gap);
  return limit === null ? `${reading}.` : `${reading}; limit ${limitWords(limit, numbers)}.`;
}

function limitWords(limit: NonNullable<Finding['limit']>, numbers: readonly number[]): string {
  // A mesh rule names the mesh first and its arithmetic after a colon; the mesh is enough here.
  const origin =
    limit.from === 'mesh'
      ? shownText(limit.rule).split(':')[0]
      : `${originWords[limit.from]}, ${shownText(limit.rule)}`;
  return `${quantity(limit.value, limit.unit, decimalsFor(limit.unit, numbers), gap)} (${origin})`;
}

/** Where the worst of it is, as one measures on the film: from its left edge and its top. */
function placeWords(report: ReportJson, finding: Finding): string {
  const first = finding.places[0];
  if (first === undefined) return '';
  const film = report.films.find((candidate) => candidate.id === first.filmId);
  const where = `${first.xMm.toFixed(1)} mm from the left and ${first.yMm.toFixed(1)} mm from the top`;
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

function filmsWords(report: ReportJson): string {
  const count = counted(report.films.length, 'film');
  const first = report.films[0];
  if (first === undefined) return count;
  const sameSize = report.films.every(
    (film) => Math.abs(film.widthMm - first.widthMm) < 0.05 && Math.abs(film.heightMm - first.heightMm) < 0.05,
  );
  return sameSize ? `${count}, ${sizeWords(first.widthMm, first.heightMm, gap)}` : `${count} of different sizes`;
}

function jobName(report: ReportJson): string {
  return shownText(report.job.name).trim() || 'This job';
}

function capitalised(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

function sentence(text: string): string {
  const shown = shownText(text).trim();
  return shown === '' || /[.?!…]["”]?$/u.test(shown) ? shown : `${shown}.`;
}

function joined(parts: readonly string[]): string {
  return parts.filter((part) => part !== '').join(' ');
}
