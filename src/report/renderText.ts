import { type Digest, digestOf, jobSizeMm, limitOriginWords, meshOf, ticketWords } from './digest.ts';
import type { Entry } from './entry.ts';
import { counted, sizeWords } from './format.ts';
import { inkValuesOf } from './frontFacts.ts';
import { inksInShort, membersInWords } from './inkWords.ts';
import { brokenLines, clipped } from './lineBreaks.ts';
import { whereabouts } from './placeKinds.ts';
import { readingInWords } from './readingInWords.ts';
import type { ReportJson } from './reportJson.ts';
import { meetingLines } from './textMeetings.ts';
import { registerLines } from './textRegister.ts';
import { listedShort, shownText, verdictWords } from './words.ts';

export interface TextOptions {
  /** Width of the terminal; lines are broken to fit, at least 60 columns are assumed. */
  readonly columns: number;
  /** Whether emphasis may be used: only where there is a terminal and `NO_COLOR` is not set. */
  readonly colour: boolean;
  /** Where the full report lies, to be said in the last line; null when none was written. */
  readonly reportPath: string | null;
}

const mostInkColumns = 17;
const mostInksNamed = 3;
/** More than these of a kind are counted, not listed. */
const mostEntries = 12;

/** Width of the terminal and of the column of check names, and how to emphasise. */
interface Layout {
  readonly columns: number;
  readonly idColumns: number;
  readonly inkColumns: number;
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
    lines.push('', `  ${strong(clipped(shownText(file), columns - 2))}`);
    for (const words of [message, remedy]) lines.push(...brokenLines(shownText(words), columns, '    '));
    return `${lines.join('\n')}\n`;
  }
  const stops = digest.stops.flatMap((group) => group.entries);
  const lookFirst = digest.lookFirst.flatMap((group) => group.entries);
  const layout = layoutFor([...stops, ...lookFirst], columns, strong);
  if (stops.length > 0) lines.push('', ...listLines(report, stops, layout));
  if (digest.lookFirstTotal > 0) lines.push('', `  ${strong('Look first')}`);
  for (const note of digest.openJoins) lines.push(...plainLines('films', note.message, layout));
  lines.push(...listLines(report, lookFirst, layout));
  if (digest.couldNotRun.length > 0) lines.push('', `  ${strong('Could not be run')}`);
  for (const check of digest.couldNotRun) lines.push(...plainLines(check.id, check.why ?? check.title, layout));
  const register = registerLines(report, columns);
  if (register.length > 0) lines.push('', `  ${strong('Register')}`, ...register);
  const meetings = meetingLines(report, digest, columns);
  if (meetings.length > 0) lines.push('', `  ${strong('Where inks meet')}`, ...meetings);
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
    ...(report.error ? [] : [size ? `${films}, ${sizeWords(size.widthMm, size.heightMm, ' ')}` : films]),
    shownText(ticketWords(report)),
  ];
  const oneLine = [verdict, ...facts].join('   ');
  if (oneLine.length <= columns) return [[strong(verdict), ...facts].join('   ')];
  const name = clipped(facts[0], columns - verdict.length - 3);
  return [`${strong(verdict)}   ${name}`, ...brokenLines(facts.slice(1).join('   '), columns, '  ')];
}

/** The columns of check names and inks are as wide as the longest need, within reason; a longer one runs over. */
function layoutFor(entries: readonly Entry[], columns: number, strong: Emphasis): Layout {
  const shown = entries.slice(0, 2 * mostEntries).filter(({ fold }) => fold !== 'waiting');
  const widest = (texts: readonly string[], most: number) =>
    Math.max(0, ...texts.map((text) => text.length + 2).filter((length) => length <= most));
  const ids = shown.map(({ check }) => check.id);
  const idColumns = Math.max(10, widest(ids, columns < 100 ? 14 : 20));
  const inkColumns = Math.max(2, widest(shown.map(inksOf), mostInkColumns));
  return { columns, idColumns, inkColumns, indent: ' '.repeat(2 + idColumns), strong };
}

function listLines(report: ReportJson, entries: readonly Entry[], layout: Layout): string[] {
  const lines = entries.slice(0, mostEntries).flatMap((entry) => entryLines(report, entry, layout));
  const more = entries.length - mostEntries;
  return more > 0 ? [...lines, `${layout.indent}and ${more} more in the report`] : lines;
}

/**
 * One finding: a head line `check  ink  reading, limit (origin)  places`, broken only where it does not fit, the inks
 * of a folded one, and at most two lines of advice.
 */
function entryLines(report: ReportJson, entry: Entry, layout: Layout): string[] {
  const { check, finding, fold } = entry;
  const { columns, indent } = layout;
  if (finding === null) return plainLines(check.id, check.why ?? check.title, layout);
  if (fold === 'waiting') return waitingLines(entry, layout);
  return [
    ...headOf(report, entry, layout),
    ...(fold === 'inks' ? brokenLines(foldedInks(entry), columns, indent) : []),
    ...adviceLines(entry.members[0].finding.advice.printer, columns, indent),
  ];
}

function headOf(report: ReportJson, entry: Entry, layout: Layout): string[] {
  const { columns, idColumns, inkColumns, indent, strong } = layout;
  const { id } = entry.check;
  const reading = readingOf(report, entry);
  const inks = reading.startsWith(`${inksOf(entry)},`) ? '' : inksOf(entry);
  const places = placesOf(entry);
  const start = `  ${padded(padded(id, idColumns) + inks, idColumns + inkColumns)}`;
  const lines: string[] = [];
  if (start.length + reading.length > columns) {
    lines.push(
      `  ${padded(id, idColumns)}${clipped(inks, columns - 2 - Math.max(idColumns, id.length + 1))}`.trimEnd(),
    );
    lines.push(...brokenLines([reading, places].filter((part) => part !== '').join(', '), columns, indent));
  } else if (places === '' || start.length + reading.length + 2 + places.length > columns) {
    lines.push((start + reading).trimEnd(), ...brokenLines(places, columns, indent));
  } else lines.push(reading === '' ? start + places : `${start}${reading}  ${places}`);
  lines[0] = lines[0].replace(id, () => strong(id));
  return lines;
}

/** What several readings wait on, how many they are, and their checks; the advice is the same for all. */
function waitingLines({ title, finding, members }: Entry, { columns, strong }: Layout): string[] {
  const readings = members.length === 1 ? '1 reading is' : `${members.length} readings are`;
  const [first, ...rest] = brokenLines(shownText(title), columns, '  ', '    ');
  const checks = shownText(finding?.details.join(', ') ?? '');
  return [
    first.replace('Waiting on', () => strong('Waiting on')),
    ...rest,
    ...brokenLines(`${readings} fine as drawn, certain only once it is settled: ${checks}`, columns, '    '),
  ];
}

function inksOf({ finding, fold, members }: Entry): string {
  if (finding === null) return '';
  return shownText(fold === 'inks' ? membersInWords(members) : inksInShort(finding.inkNames));
}

function foldedInks(entry: Entry): string {
  const items = inkValuesOf(entry, ' ').map(({ names, value }) => `${names.join(' / ')} ${value}`.trim());
  return shownText(listedShort(items, mostInksNamed));
}

/** At most two lines: whole sentences where they fit, else cut with dots. */
function adviceLines(advice: string, columns: number, indent: string): string[] {
  const text = shownText(advice);
  const lines = brokenLines(text, columns, indent);
  if (lines.length <= 2) return lines;
  for (const { index } of [...text.matchAll(/[.;] (?=\S)/g)].reverse()) {
    const shorter = brokenLines(`${text.slice(0, index)}.`, columns, indent);
    if (shorter.length <= 2) return shorter;
  }
  return [lines[0], clipped(`${lines[1].slice(0, columns - 2)} …`, columns)];
}

/** Padded to its column, with at least one space after it. */
function padded(text: string, width: number): string {
  return `${text} `.padEnd(width);
}

function readingOf(report: ReportJson, entry: Entry): string {
  const { finding } = entry;
  const { reading, limit } = readingInWords(entry, { gap: ' ', unitOnLimit: false });
  if (finding === null || reading === '') return shownText(finding?.details[0] ?? entry.title);
  if (limit === '' || finding.limit === null) return saysInks(entry, reading) ? '' : reading;
  const origin = limitOriginWords(report, finding.limit, finding.inkNames, ' ');
  return `${reading}, ${limit} (${shownText(origin)})`;
}

/** Whether the column of inks says already what was counted. */
function saysInks(entry: Entry, reading: string): boolean {
  return reading === inksOf(entry) || (reading === '1 ink' && entry.finding?.inkNames.length === 1);
}

function placesOf({ finding }: Entry): string {
  const first = finding?.places[0];
  if (!finding || !first) return '';
  const { xMm, yMm } = whereabouts(first);
  const where = `${xMm.toFixed(1)}, ${yMm.toFixed(1)} mm`;
  return finding.placesTotal > 1 ? `${finding.placesTotal} places, first ${where}` : `at ${where}`;
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
