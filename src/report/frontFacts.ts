import type { Limit } from '../findings/finding.ts';
import { type Digest, type Group, jobSizeMm, meshOf, ticketWords } from './digest.ts';
import type { Entry } from './entry.ts';
import { counted, meshLongWords, originWords, sizeInchWords, sizeWords, thinSpace } from './format.ts';
import { inksInShort } from './inkWords.ts';
import { readingInWords, valueInWords } from './readingInWords.ts';
import type { ReportJson } from './reportJson.ts';
import { errorHeadings } from './words.ts';

export interface Fact {
  readonly term: string;
  readonly value: string;
  readonly swatchHex?: string;
}

/** What the job is, in the order it is asked for. */
export function factsOf(report: ReportJson, date: string | null): Fact[] {
  const { ticket } = report;
  const size = jobSizeMm(report);
  const files = new Set(report.films.map((film) => film.file)).size;
  const facts: Fact[] = [];
  if (size) {
    const inches = sizeInchWords(size.widthMm, size.heightMm);
    facts.push({ term: 'Size', value: `${sizeWords(size.widthMm, size.heightMm)} (${inches})` });
  }
  if (!report.error)
    facts.push({ term: 'Films', value: `${counted(report.plates.length, 'film')} from ${counted(files, 'file')}` });
  const location = ticket.print.location === null ? '' : `, ${ticket.print.location}`;
  facts.push({ term: 'Shirt', value: `${ticket.fabric}${location}`, swatchHex: ticket.garmentHex });
  if (ticket.print.quantity !== null) facts.push({ term: 'Quantity', value: String(ticket.print.quantity) });
  const register = `holds register to ${ticket.press.registrationMm}${thinSpace}mm`;
  facts.push({ term: 'Press', value: `${counted(ticket.press.heads, 'head')}, ${register}` });
  facts.push({ term: 'Limits from', value: ticketWords(report) });
  if (date !== null) facts.push({ term: 'Date', value: date });
  return facts;
}

export interface SummaryPart {
  readonly heading: string;
  readonly goTo: string;
  readonly lines: readonly {
    readonly title: string;
    readonly inks: string;
    readonly reading: string;
    readonly goTo: string | null;
  }[];
  /** What was left away, in words; empty when nothing was. */
  readonly more: string;
}

const mostLines = 6;

/** The whole report in a few lines: what stops, what to look at, what was fine, what was not checked. */
export function summaryOf(report: ReportJson, digest: Digest): SummaryPart[] {
  if (report.error) {
    const line = { title: report.error.message, inks: report.error.file, reading: '', goTo: 'error' };
    return [{ heading: errorHeadings(report.error.code).front, goTo: 'error', lines: [line], more: '' }];
  }
  const parts: SummaryPart[] = [];
  const add = (heading: string, goTo: string, lines: SummaryPart['lines']) => {
    const more = lines.length > mostLines ? `and ${lines.length - mostLines} more` : '';
    parts.push({ heading, goTo, lines: lines.slice(0, mostLines), more });
  };
  if (digest.couldNotRun.length > 0) {
    const lines = digest.couldNotRun.map((check) => ({
      title: check.title,
      inks: '',
      reading: '',
      goTo: 'not-checked',
    }));
    add('Could not be run', 'not-checked', lines);
  }
  if (digest.stopsTotal > 0)
    add(`${digest.stopsTotal} ${digest.stopsTotal === 1 ? 'stops' : 'stop'} filming`, 'stops', linesOf(digest.stops));
  if (digest.lookFirstTotal > 0) {
    const joins = digest.openJoins.map((note) => ({ title: note.message, inks: '', reading: '', goTo: 'look-first' }));
    add(`${digest.lookFirstTotal} to look at first`, 'look-first', [...joins, ...linesOf(digest.lookFirst)]);
  }
  add(`${counted(digest.fine.length, 'check')} measured and fine`, 'fine', []);
  const aside = digest.notApplicable.length + report.notLookedAt.length;
  if (aside > 0) add(`${aside} not checked, and why`, 'not-checked', []);
  return parts;
}

/** One line a check: its worst finding, and how many more there are. */
function linesOf(groups: readonly Group[]): SummaryPart['lines'] {
  return groups.flatMap(({ entries }) =>
    entries
      .filter((entry, index) => entries.findIndex((other) => other.check.id === entry.check.id) === index)
      .map((entry) => {
        const more = entries.filter((other) => other.check.id === entry.check.id).length - 1;
        const inks = [inksInShort(entry.finding?.inkNames ?? []), more > 0 ? `and ${more} more` : ''];
        const reading = more > 0 ? '' : readingAgainstLimit(entry);
        return {
          title: entry.title,
          inks: reading.startsWith(`${inks[0]},`) ? '' : inks.filter((part) => part !== '').join(' '),
          reading,
          goTo: entry.anchor,
        };
      }),
  );
}

/** `0.21 ± 0.02 mm, needs 0.31 mm`; empty when nothing was measured. */
export function readingAgainstLimit(entry: Entry): string {
  const { reading, limit } = readingInWords(entry);
  return [reading, limit].filter((part) => part !== '').join(', ');
}

/** Why the limit is what it is, to follow a reading; empty where no limit is told. */
export function originOfLimit(report: ReportJson, entry: Entry): string {
  const { finding } = entry;
  if (!finding?.limit || readingInWords(entry).limit === '') return '';
  return limitOriginLong(report, finding.limit, finding.inkNames);
}

/** Each ink of a folded entry with its value, worst first; the value is left away when all share it. */
export function inkValuesOf(
  { fold, members }: Entry,
  gap = thinSpace,
): { readonly names: readonly string[]; readonly value: string }[] {
  if (fold !== 'inks') return [];
  const values = members.map((member) => valueInWords(member, gap));
  const isShared = new Set(values).size === 1;
  return members.map(({ finding }, index) => ({ names: finding.inkNames, value: isShared ? '' : values[index] }));
}

/** Where a limit comes from in full: "mesh 43/cm (109/in), 80 µm thread", "shop default, smallest type of the shop". */
function limitOriginLong(report: ReportJson, limit: Limit, inkNames: readonly string[]): string {
  const mesh = limit.from === 'mesh' && inkNames.length === 1 ? meshOf(report, inkNames[0]) : null;
  return mesh ? `mesh ${meshLongWords(mesh)}` : `${originWords[limit.from]}, ${limit.rule}`;
}
