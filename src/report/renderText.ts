import {
  type Digest,
  digestOf,
  type Entry,
  failingSideOf,
  inksInShort,
  jobSizeMm,
  limitOriginWords,
  limitVerb,
  meshOf,
  ticketWords,
} from './digest.ts';
import { counted, decimalsFor, fixed, quantity, readingWords, sizeWords } from './format.ts';
import { brokenLines } from './lineBreaks.ts';
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

const inkColumns = 15;
/** More than these of a kind are counted, not listed. */
const mostEntries = 12;

/** Width of the terminal and of the column of check names, and how to emphasise. */
interface Layout {
  readonly columns: number;
  readonly idColumns: number;
  readonly indent: string;
  readonly strong: Emphasis;
}

type Emphasis = (text: string) => string;

/** The report for a terminal: verdict, what stops filming, what to look at first, counts, order, where the rest lies. */
export function renderText(report: ReportJson, options: TextOptions): string {
  const columns = Math.max(60, options.columns);
  const strong: Emphasis = (text) => (options.colour ? `\u001b[1m${text}\u001b[22m` : text);
  const digest = digestOf(report);
  const lines = headLines(report, columns, strong);
  if (report.error) {
    const { file, message, remedy } = report.error;
    lines.push('', ...brokenLines(shownText(`${file}: ${message} ${remedy}`), columns, '  '));
    return `${lines.join('\n')}\n`;
  }
  const stops = digest.stops.flatMap((group) => group.entries);
  const lookFirst = digest.lookFirst.flatMap((group) => group.entries);
  const layout = layoutFor([...stops, ...lookFirst], digest, columns, strong);
  if (stops.length > 0) lines.push('', ...listLines(report, stops, layout));
  if (digest.lookFirstTotal > 0) lines.push('', `  ${strong('Look first')}`);
  for (const note of digest.openJoins) lines.push(...plainLines('films', note.message, layout));
  lines.push(...listLines(report, lookFirst, layout));
  if (digest.couldNotRun.length > 0) lines.push('', `  ${strong('Could not be run')}`);
  for (const check of digest.couldNotRun) lines.push(...plainLines(check.id, check.why ?? check.title, layout));
  lines.push('', ...brokenLines(countWords(digest), columns, '  '));
  const order = orderWords(report);
  if (order !== '') lines.push(...brokenLines(order, columns, '  ', '    '));
  if (options.reportPath !== null) lines.push(`  report: ${shownText(options.reportPath)}`);
  return `${lines.join('\n')}\n`;
}

function headLines(report: ReportJson, columns: number, strong: Emphasis): string[] {
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
  const name = clipped(facts[0], columns - verdict.length - 3);
  return [`${strong(verdict)}   ${name}`, ...brokenLines(facts.slice(1).join('   '), columns, '  ')];
}

/** The column of check names is as wide as the longest needs, within reason. */
function layoutFor(entries: readonly Entry[], digest: Digest, columns: number, strong: Emphasis): Layout {
  const ids = [
    ...entries.slice(0, 2 * mostEntries).map(({ check }) => check.id),
    ...digest.couldNotRun.map(({ id }) => id),
  ];
  const widest = Math.max(0, ...ids.map((id) => id.length + 2));
  const idColumns = Math.min(Math.max(14, widest), columns < 100 ? 14 : 27);
  return { columns, idColumns, indent: ' '.repeat(2 + idColumns), strong };
}

function listLines(report: ReportJson, entries: readonly Entry[], layout: Layout): string[] {
  const lines = entries.slice(0, mostEntries).flatMap((entry) => entryLines(report, entry, layout));
  const more = entries.length - mostEntries;
  return more > 0 ? [...lines, `${layout.indent}and ${more} more in the report`] : lines;
}

function entryLines(report: ReportJson, entry: Entry, layout: Layout): string[] {
  const { check, finding } = entry;
  const { columns, idColumns, indent, strong } = layout;
  if (finding === null) return plainLines(check.id, check.why ?? check.title, layout);
  const inks = shownText(inksInShort(finding.inkNames));
  const start = `  ${padded(check.id, idColumns)}${padded(inks, inkColumns)}`;
  const reading = readingOf(report, entry);
  const places = placesOf(report, entry);
  const lines: string[] = [];
  if (start.length + reading.length > columns) {
    const room = columns - 2 - Math.max(idColumns, check.id.length + 1);
    lines.push(`  ${padded(check.id, idColumns)}${clipped(inks, room)}`.trimEnd());
    lines.push(...brokenLines([reading, places].filter((part) => part !== '').join(', '), columns, indent));
  } else if (places === '' || start.length + reading.length + 4 + places.length > columns) {
    lines.push(start + reading, ...brokenLines(places, columns, indent));
  } else lines.push(`${start}${reading}    ${places}`);
  lines[0] = lines[0].replace(check.id, strong(check.id));
  return [...lines, ...brokenLines(shownText(finding.advice.printer), columns, indent)];
}

/** Padded to its column, with at least one space after it. */
function padded(text: string, width: number): string {
  return `${text} `.padEnd(width);
}

function readingOf(report: ReportJson, entry: Entry): string {
  const { check, finding } = entry;
  if (finding === null || finding.measured === null) return shownText(finding?.details[0] ?? check.title);
  const { measured, limit } = finding;
  const numbers = limit ? [measured.value, limit.value] : [measured.value];
  const decimals = decimalsFor(measured.unit, numbers, measured.plusMinus);
  const words = readingWords(measured, decimals, ' ');
  if (limit === null) return words;
  const side = failingSideOf(check, finding);
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

function plainLines(id: string, message: string, { columns, idColumns, indent, strong }: Layout): string[] {
  const lines = brokenLines(shownText(message), columns, `  ${padded(id, idColumns)}`, indent);
  return lines.map((line, index) => (index === 0 ? line.replace(id, strong(id)) : line));
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
    const mesh = meshOf(report, step.inkName ?? '');
    return mesh === null ? name : `${name} (${Math.round(mesh.threadsPerCm * 10) / 10}/cm)`;
  });
  return steps.length === 0 ? '' : `order: ${steps.map((step, index) => `${index + 1} ${step}`).join(', ')}`;
}

function clipped(text: string, columns: number): string {
  return text.length <= columns ? text : `${text.slice(0, Math.max(1, columns - 1))}…`;
}
