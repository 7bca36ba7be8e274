import {
  type Digest,
  digestOf,
  type Entry,
  failingSideOf,
  jobSizeMm,
  limitOriginWords,
  limitVerb,
  ticketWords,
} from './digest.ts';
import { counted, decimalsFor, fixed, quantity, readingWords, sizeWords } from './format.ts';
import type { ReportJson } from './reportJson.ts';
import { shownText, verdictWords } from './words.ts';

export interface TextOptions {
  /** Width of the terminal; lines are broken to fit, at least 60 columns are assumed. */
  readonly columns: number;
  /** Whether emphasis may be used: only where there is a terminal and `NO_COLOR` is not set. */
  readonly colour: boolean;
  /** Where the full report lies, to be said in the last line; null when none was written. */
  readonly reportPath: string | null;
}

const idColumns = 14;
const inkColumns = 15;
const indent = ' '.repeat(2 + idColumns);

/** The report for a terminal: verdict, what stops filming, what to look at first, counts, order, where the rest lies. */
export function renderText(report: ReportJson, options: TextOptions): string {
  const columns = Math.max(60, options.columns);
  const strong = (text: string) => (options.colour ? `\u001b[1m${text}\u001b[22m` : text);
  const digest = digestOf(report);
  const lines = headLines(report, columns, strong);
  const stops = digest.stops.flatMap((group) => group.entries);
  const lookFirst = digest.lookFirst.flatMap((group) => group.entries);
  if (stops.length > 0) lines.push('');
  for (const entry of stops) lines.push(...entryLines(report, entry, columns, strong));
  if (digest.lookFirstTotal > 0) lines.push('', `  ${strong('Look first')}`);
  for (const note of digest.openJoins) lines.push(...plainLines('films', shownText(note.message), columns));
  for (const entry of lookFirst) lines.push(...entryLines(report, entry, columns, strong));
  if (digest.couldNotRun.length > 0) lines.push('', `  ${strong('Could not be run')}`);
  for (const check of digest.couldNotRun) lines.push(...plainLines(check.id, shownText(check.why ?? ''), columns));
  lines.push('', ...broken(countWords(digest), columns, '  '));
  const order = orderWords(report);
  if (order !== '') lines.push(...broken(order, columns, '  ', '    '));
  if (options.reportPath !== null) lines.push(`  report: ${shownText(options.reportPath)}`);
  return `${lines.join('\n')}\n`;
}

function headLines(report: ReportJson, columns: number, strong: (text: string) => string): string[] {
  const size = jobSizeMm(report);
  const films = counted(report.plates.length, 'film');
  const verdict = verdictWords[report.verdict];
  const facts = [
    shownText(report.job.name),
    size ? `${films}, ${sizeWords(size.widthMm, size.heightMm, ' ')}` : films,
    shownText(ticketWords(report)),
  ];
  const oneLine = [verdict, ...facts].join('   ');
  if (oneLine.length <= columns) return [[strong(verdict), ...facts].join('   ')];
  return [`${strong(verdict)}   ${facts[0]}`, ...broken(facts.slice(1).join('   '), columns, '  ')];
}

function entryLines(report: ReportJson, entry: Entry, columns: number, strong: (text: string) => string): string[] {
  const { check, finding } = entry;
  if (finding === null) return plainLines(check.id, shownText(check.why ?? check.title), columns);
  const inks = shownText(finding.inkNames.join(' / '));
  const reading = readingOf(report, entry);
  const places = placesOf(report, entry);
  const label = strong(check.id) + ' '.repeat(Math.max(0, idColumns - check.id.length));
  const start = `  ${label}${inks.padEnd(inkColumns)}`;
  const startLength = 2 + Math.max(idColumns, check.id.length) + Math.max(inkColumns, inks.length);
  const inkGap = inks.length >= inkColumns ? ' ' : '';
  const idGap = check.id.length >= idColumns ? ' ' : '';
  const lines: string[] = [];
  const first = `${reading}${places === '' ? '' : `    ${places}`}`;
  if (startLength + 2 + first.length <= columns) {
    lines.push(`  ${label}${idGap}${inks.padEnd(inkColumns)}${inkGap}${first}`);
  } else if (startLength + 2 + reading.length <= columns) {
    lines.push(`  ${label}${idGap}${inks.padEnd(inkColumns)}${inkGap}${reading}`);
    if (places !== '') lines.push(...broken(places, columns, indent));
  } else {
    lines.push(start.replace(inks.padEnd(inkColumns), '').trimEnd());
    lines[lines.length - 1] = `  ${label}${idGap}${clipped(inks, columns - 2 - idColumns - 1)}`.trimEnd();
    lines.push(...broken([reading, places].filter((part) => part !== '').join('; '), columns, indent));
  }
  lines.push(...broken(shownText(finding.advice.printer), columns, indent));
  return lines;
}

function readingOf(report: ReportJson, entry: Entry): string {
  const { check, finding } = entry;
  if (finding === null || finding.measured === null) return shownText(finding?.details[0] ?? check.title);
  const { measured, limit } = finding;
  const numbers = limit ? [measured.value, limit.value] : [measured.value];
  const decimals = decimalsFor(measured.unit, numbers, measured.plusMinus);
  const words = readingWords(measured, decimals, ' ');
  if (limit === null) return words;
  const side = failingSideOf(finding.outcome, check.id, measured.value, limit.value);
  const wanted =
    limit.unit === measured.unit ? fixed(limit.value, decimals) : quantity(limit.value, limit.unit, decimals, ' ');
  const origin = limitOriginWords(report, limit, finding.inkNames, ' ');
  return `${words}, ${limitVerb(side)} ${wanted} (${shownText(origin)})`;
}

function placesOf(report: ReportJson, entry: Entry): string {
  const { finding } = entry;
  const first = finding?.places[0];
  if (!finding || !first) return '';
  const film = report.films.length > 1 ? report.films.find((candidate) => candidate.id === first.filmId) : undefined;
  const where = `first ${first.xMm.toFixed(1)}, ${first.yMm.toFixed(1)} mm${film ? ` on ${shownText(film.file)}` : ''}`;
  return `${counted(finding.placesTotal, 'place')}, ${where}`;
}

function plainLines(id: string, message: string, columns: number): string[] {
  const lines = broken(message, columns, indent);
  const label = `  ${id.padEnd(idColumns)}`;
  if (id.length >= idColumns || lines.length === 0) return [`  ${id}`, ...lines];
  return [label + lines[0].slice(indent.length), ...lines.slice(1)];
}

function countWords(digest: Digest): string {
  const parts = [`${counted(digest.fine.length, 'check')} fine`];
  if (digest.notApplicable.length > 0) parts.push(`${digest.notApplicable.length} not applicable`);
  if (digest.couldNotRun.length > 0) parts.push(`${digest.couldNotRun.length} could not be run`);
  return parts.join(', ');
}

function orderWords(report: ReportJson): string {
  const steps = report.plan.order.map((step) => {
    if (step.what === 'flash') return 'flash';
    if (step.what === 'coolDown') return 'cool-down';
    const name = shownText(step.inkName ?? 'ink');
    return step.mesh === null ? name : `${name} (${step.mesh})`;
  });
  return steps.length === 0 ? '' : `order: ${steps.map((step, index) => `${index + 1} ${step}`).join(', ')}`;
}

function clipped(text: string, columns: number): string {
  return text.length <= columns ? text : `${text.slice(0, Math.max(1, columns - 1))}…`;
}

/** Breaks at spaces so that no line is longer than `columns`; a word that is longer is cut. */
function broken(text: string, columns: number, first: string, next = first): string[] {
  const lines: string[] = [];
  let line = '';
  const room = () => columns - (lines.length === 0 ? first : next).length;
  const push = () => {
    lines.push((lines.length === 0 ? first : next) + line);
    line = '';
  };
  for (let word of text.split(/ +/).filter((part) => part !== '')) {
    if (line !== '' && line.length + 1 + word.length > room()) push();
    while (word.length > room()) {
      line = word.slice(0, room());
      word = word.slice(line.length);
      push();
    }
    line = line === '' ? word : `${line} ${word}`;
  }
  if (line !== '') push();
  return lines;
}
