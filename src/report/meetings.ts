import { platesInPrintOrder } from './composite.ts';
import type { Digest } from './digest.ts';
import type { Entry } from './entry.ts';
import { type LengthChart, type LengthScale, lengthScale } from './lengthChart.ts';
import type { ReportJson, ReportPair, ReportUnderbase } from './reportJson.ts';
import { remedyOf } from './words.ts';

/** Two inks that meet, with what the checks found about just these two. */
export interface Meeting {
  readonly pair: ReportPair;
  /** The inks of the pair's plates, in that order. */
  readonly inkNames: readonly [string, string];
  /** The same in print order. */
  readonly inksAsPrinted: readonly [string, string];
  /** What was found about how these two meet, worst first. */
  readonly entries: readonly Entry[];
  /** The trap asked for, the larger of the two inks'; null where edges are to butt. */
  readonly trapMm: number | null;
}

/** The pairs of a job, and the scale their charts have in common; those that lie under or on the base left out: `underbase` tells of them. */
export interface Meetings {
  /** Pairs a finding is about, worst first. */
  readonly found: readonly Meeting[];
  /** Pairs no finding is about: the least overlap first, last those that have no edge in common. */
  readonly fine: readonly Meeting[];
  /** How many pairs share no edge and, registration marks aside, no area. */
  readonly apartTotal: number;
  readonly scale: LengthScale;
}

/** Whether there is anything to tell of how inks meet. */
export function hasMeetings(report: ReportJson): boolean {
  return report.pairs.length > 0 || report.underbase !== null;
}

/** How the inks of a job meet, from the report alone. */
export function meetingsOf(report: ReportJson, digest: Digest): Meetings {
  const base = report.underbase?.basePlateId;
  const pairs = report.pairs.filter(({ plateIds }) => base === undefined || !plateIds.includes(base));
  const entries = [...digest.stops, ...digest.lookFirst]
    .flatMap((group) => group.entries)
    .filter(({ check, fold }) => remedyOf(check.id) === 'overlap' && fold !== 'waiting');
  const meetings = pairs.filter(isMeeting).map((pair) => meetingOf(report, pair, entries));
  const charts = meetings.map(chartOfMeeting).filter((chart) => chart !== null);
  return {
    found: meetings.filter(({ entries: own }) => own.length > 0).sort(worstFirst(entries)),
    fine: meetings.filter(({ entries: own }) => own.length === 0).sort(leastOverlapFirst),
    apartTotal: pairs.length - meetings.length,
    scale: lengthScale(charts),
  };
}

/** The whole of the edge two inks have in common, gaps included. */
export function edgeLengthMm({ touchingLengthMm, gapLengthMm }: ReportPair): number {
  return touchingLengthMm + gapLengthMm;
}

/** Of what was found about a pair, the first of each check. */
export function firstOfEachCheck(entries: readonly Entry[]): Entry[] {
  return entries.filter(({ check }, index) => entries.findIndex((other) => other.check.id === check.id) === index);
}

/** The overlaps along the common edge; null where there is none. */
export function chartOfMeeting({ pair, trapMm }: Meeting): LengthChart | null {
  const { overlapByLength: bins } = pair;
  return bins.length === 0 ? null : { bins, limitMm: trapMm, sides: ['gap', 'overlap'] };
}

/** The choke along the edge of the colours; null where no base is near it. */
export function chartOfBase(report: ReportJson, base: ReportUnderbase): LengthChart | null {
  const chokeMm = frameOf(report, inkNameOf(report, base.basePlateId))?.limits.chokeMm?.value ?? 0;
  const { chokeByLength: bins } = base;
  return bins.length === 0 ? null : { bins, limitMm: chokeMm > 0 ? chokeMm : null, sides: ['peeks out', 'choke'] };
}

function isMeeting(pair: ReportPair): boolean {
  const { outlineMm, sharedAreaMm2 } = pair.leftOut;
  return edgeLengthMm(pair) > 0 || pair.overprintAreaMm2 > 0 || outlineMm > 0 || sharedAreaMm2 > 0;
}

function meetingOf(report: ReportJson, pair: ReportPair, entries: readonly Entry[]): Meeting {
  const inkNames = pair.plateIds.map((id) => inkNameOf(report, id)) as [string, string];
  const traps = inkNames.map((name) => frameOf(report, name)?.limits.trapMm?.value ?? 0);
  const trapMm = Math.max(...traps);
  const order = platesInPrintOrder(report).map(({ id }) => id);
  const isTurned = order.indexOf(pair.plateIds[0]) > order.indexOf(pair.plateIds[1]);
  return {
    pair,
    inkNames,
    inksAsPrinted: isTurned ? [inkNames[1], inkNames[0]] : inkNames,
    entries: entries.filter(({ members }) => members.some(({ finding }) => isAbout(finding.plateIds, pair))),
    trapMm: trapMm > 0 ? trapMm : null,
  };
}

/** The ink a plate prints, by name. */
export function inkNameOf(report: ReportJson, plateId: string): string {
  const inkId = report.plates.find(({ id }) => id === plateId)?.inkId;
  return report.inks.find(({ id }) => id === inkId)?.name ?? plateId;
}

function frameOf(report: ReportJson, inkName: string): ReportJson['ticket']['screens'][number] | undefined {
  return report.ticket.screens.find(({ ink }) => ink === inkName);
}

function isAbout(plateIds: readonly string[], pair: ReportPair): boolean {
  return plateIds.length === 2 && pair.plateIds.every((id) => plateIds.includes(id));
}

/** In the order of the findings; pairs of one finding by the length of edge that overlaps by less than the trap. */
function worstFirst(entries: readonly Entry[]): (a: Meeting, b: Meeting) => number {
  const rank = (meeting: Meeting) => entries.indexOf(meeting.entries[0]);
  return (a, b) => rank(a) - rank(b) || shortLengthMm(b) - shortLengthMm(a);
}

function shortLengthMm({ pair, trapMm }: Meeting): number {
  const short = pair.overlapByLength.filter(({ fromMm, toMm }) => fromMm < 0 || toMm <= (trapMm ?? -1));
  return short.reduce((sum, { lengthMm }) => sum + lengthMm, 0);
}

function leastOverlapFirst(a: Meeting, b: Meeting): number {
  const least = ({ pair }: Meeting) => pair.overlapSpread?.p5Mm ?? Number.MAX_VALUE;
  return least(a) - least(b) || b.pair.overprintAreaMm2 - a.pair.overprintAreaMm2;
}
