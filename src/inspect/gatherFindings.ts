import type { AnyCheck, Shown } from '../checks/check.ts';
import { spokenInkName } from '../colour/colourWords.ts';
import type { Finding, Limit, Place, Reading, Unmeasured } from '../findings/finding.ts';
import type { BoxMm, PointMm } from '../geometry/box.ts';
import type { ResolvedTicket } from '../ticket/ticket.ts';
import { openAdvice } from './openAdvice.ts';

export interface JudgedReading {
  readonly reading: Reading;
  readonly limit: Limit;
  /** The value and limit a finding shows: the reading's own unless something derived of it was judged. */
  readonly shown: Shown;
  readonly derived: boolean;
  readonly outcome: 'pass' | 'needsReview' | 'fail';
  readonly code: string | null;
  /** False for the runner's own codes, which every check shares. */
  readonly ownCode: boolean;
  /** What keeps the reading from being certain. */
  readonly doubts: readonly string[];
}

/** Something that was not measured, against the limit it would have been judged by. */
export interface OpenPart {
  readonly item: Unmeasured;
  readonly limit: Limit;
  /** What it waits on, when nothing was found and the plate could not be drawn completely. */
  readonly doubts?: readonly string[];
}

const mostPlaces = 200;
const mostDetails = 12;

/** Like readings gathered: one finding for each outcome, code and set of inks; failures first, then worst first. */
export function gatherFindings(
  check: AnyCheck,
  readings: readonly JudgedReading[],
  unmeasured: readonly OpenPart[],
  ticket: ResolvedTicket,
): Finding[] {
  const open = readings.filter(({ outcome }) => outcome !== 'pass');
  const groups = groupBy(open, ({ outcome, code, reading }) => JSON.stringify([outcome, code, reading.inkNames]));
  const judged = groups
    .map((group) => [...group].sort(byWorst))
    .sort((a, b) => outcomeRank(a[0]) - outcomeRank(b[0]) || marginOf(a[0].shown) - marginOf(b[0].shown))
    .map((group) => judgedFinding(check, group, ticket));
  const unread = groupBy(unmeasured, ({ item }) => JSON.stringify([item.reason, item.inkNames])).map(unreadFinding);
  return [...judged, ...unread];
}

/** Worst first; what was only derived of a reading comes last where all of them are fine as drawn. */
function byWorst(a: JudgedReading, b: JudgedReading): number {
  const plainFirst = a.code === 'not-verified' ? Number(a.derived) - Number(b.derived) : 0;
  return plainFirst || marginOf(a.shown) - marginOf(b.shown);
}

/** How far a value stays clear of its limit, as a share of the limit; below zero it is past it. */
export function marginOf({ value, limit, worse }: Shown): number {
  const clearance = worse === 'less' ? value - limit.value : limit.value - value;
  return clearance / (Math.abs(limit.value) || 1);
}

function judgedFinding(check: AnyCheck, group: readonly JudgedReading[], ticket: ResolvedTicket): Finding {
  const worst = group[0];
  const { reading, shown } = worst;
  const { places, placesTotal } = placesOf(group);
  const plainReading = { ...reading, value: shown.value, plusMinus: shown.plusMinus };
  const context = { reading: plainReading, limit: shown.limit, placesTotal: Math.max(1, placesTotal), ticket };
  const advice = worst.ownCode
    ? {
        customer: spoken(check.advice[worst.code!].customer(context), reading.inkNames),
        printer: spoken(check.advice[worst.code!].printer(context), reading.inkNames),
      }
    : openAdvice(worst.doubts);
  return {
    code: worst.code!,
    outcome: worst.outcome as 'fail' | 'needsReview',
    plateIds: distinct(group.flatMap(({ reading: { plateIds } }) => plateIds)),
    inkNames: reading.inkNames,
    measured: reading.atLeast ? null : { value: shown.value, unit: reading.unit, plusMinus: shown.plusMinus },
    limit: shown.limit,
    worse: shown.worse,
    ...(reading.beat === undefined ? {} : { beat: reading.beat }),
    places,
    placesTotal,
    ...detailsOf(worst, group),
    advice,
  };
}

/** Of readings that only wait on their plates, the doubts and nothing else, so that reports can gather them by these. */
function detailsOf(worst: JudgedReading, group: readonly JudgedReading[]): Pick<Finding, 'details' | 'waitingOn'> {
  if (worst.code === 'not-verified') {
    const doubts = distinct(group.flatMap(({ doubts }) => doubts));
    return { details: doubts, waitingOn: doubts };
  }
  const all = group.flatMap(({ reading, doubts }) => [reading.detail, ...doubts]);
  const said = [worst.shown.words, ...all].filter((detail) => detail !== undefined);
  return { details: distinct(said).slice(0, mostDetails) };
}

/** Advice with the inks that nobody named told by their colour; a name stays as it is written. */
function spoken(text: string, inkNames: readonly string[]): string {
  let result = text;
  for (const name of new Set(inkNames)) result = result.replaceAll(name, () => spokenInkName(name));
  if (result === text) return text;
  return result.replace(/\b([Tt]he) the (?=[a-z ]+ #)/g, '$1 ').replace(/(^|[.?] )the (?=[a-z ]+ #)/g, '$1The ');
}

function unreadFinding(group: readonly OpenPart[]): Finding {
  const { item, limit, doubts } = group[0];
  return {
    code: doubts === undefined ? 'not-measured' : 'not-verified',
    outcome: 'needsReview',
    plateIds: distinct(group.flatMap(({ item: { plateIds } }) => plateIds)),
    inkNames: item.inkNames,
    measured: null,
    limit,
    places: [],
    placesTotal: 0,
    details: doubts ?? [item.reason],
    ...(doubts === undefined ? {} : { waitingOn: doubts }),
    advice: openAdvice([item.reason]),
  };
}

function placesOf(group: readonly JudgedReading[]): { places: Place[]; placesTotal: number } {
  const places: Place[] = [];
  let placesTotal = 0;
  for (const { reading, shown, derived } of group) {
    const parts = reading.parts ?? [
      { boxMm: reading.boxMm, focusMm: reading.focusMm, value: derived ? shown.value : reading.value },
    ];
    for (const { boxMm, focusMm, value } of parts) {
      if (reading.filmId === null || boxMm === null) continue;
      placesTotal++;
      if (places.length < mostPlaces) places.push(placeAt(reading.filmId, boxMm, focusMm, value));
    }
  }
  return { places, placesTotal };
}

function placeAt(filmId: string, boxMm: BoxMm, focusMm: PointMm | undefined, value: number): Place {
  const focus = focusMm === undefined ? {} : { focusXMm: focusMm.xMm, focusYMm: focusMm.yMm };
  return { filmId, ...boxMm, ...focus, value };
}

function outcomeRank({ outcome }: JudgedReading): number {
  return outcome === 'fail' ? 0 : 1;
}

function groupBy<T>(items: readonly T[], keyOf: (item: T) => string): T[][] {
  const groups = new Map<string, T[]>();
  for (const item of items) {
    const key = keyOf(item);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [item]);
    else group.push(item);
  }
  return [...groups.values()];
}

function distinct<T>(values: readonly T[]): T[] {
  return [...new Set(values)];
}
