import { factsOfBase } from './baseFacts.ts';
import type { Digest } from './digest.ts';
import { counted } from './format.ts';
import { brokenLines, clipped } from './lineBreaks.ts';
import { factsOfMeeting, type MeasuredFact, type Wording } from './meetingFacts.ts';
import { hasMeetings, inkNameOf, meetingsOf } from './meetings.ts';
import type { ReportJson, ReportUnderbase } from './reportJson.ts';
import { shownText } from './words.ts';

/** More pairs than these are counted, not listed. */
const mostPairs = 4;
const inTerminal: Wording = { gap: ' ', isBrief: true };

type Row = readonly [name: string, words: string];

/** How the inks meet, for a terminal: the worst pairs a line each, how many more there are, the base. */
export function meetingLines(report: ReportJson, digest: Digest, columns: number): string[] {
  if (!hasMeetings(report)) return [];
  const { found, fine } = meetingsOf(report, digest);
  const meetings = [...found, ...fine];
  const rows = meetings
    .slice(0, mostPairs)
    .map((meeting): Row => [meeting.inksAsPrinted.join(' / '), phrasesOf(factsOfMeeting(meeting, inTerminal))]);
  const base = report.underbase ? [baseRow(report, report.underbase)] : [];
  const names = [...rows, ...base].map(([name]) => shownText(name));
  const indent = Math.min(Math.max(0, ...names.map(({ length }) => length)), Math.floor(columns / 3)) + 4;
  const lineOf = ([name, words]: Row) => {
    const start = `  ${clipped(shownText(name), indent - 4)}`.padEnd(indent);
    return brokenLines(shownText(words), columns, start, ' '.repeat(indent));
  };
  const more = meetings.length - mostPairs;
  const clean = Math.min(more, fine.length);
  const rest = `and ${counted(more, 'more pair')} in the report${clean > 0 ? `, ${clean} without a finding` : ''}`;
  return [
    ...rows.flatMap(lineOf),
    ...(more > 0 ? brokenLines(rest, columns, ' '.repeat(indent)) : []),
    ...base.flatMap(lineOf),
  ];
}

function baseRow(report: ReportJson, base: ReportUnderbase): Row {
  return [inkNameOf(report, base.basePlateId), `the base: ${phrasesOf(factsOfBase(report, base, inTerminal))}`];
}

function phrasesOf(facts: readonly MeasuredFact[]): string {
  return facts.map(({ phrase }) => phrase).join('; ');
}
