import type { Finding } from '../findings/finding.ts';
import { type Entry, entryOf, type Member } from './entry.ts';
import { inksInShort } from './inkWords.ts';
import { listedShort } from './words.ts';

/** Whether a finding is fine as drawn and waits only on something that could not be drawn. */
export function isWaiting({ code, waitingOn }: Finding): boolean {
  return code === 'not-verified' && waitingOn !== undefined && waitingOn.length > 0;
}

/**
 * One entry for each thing that readings wait on, whatever their checks: what is waited on, how many readings, of
 * which inks, and the checks in a few words.
 */
export function foldWaiting(members: readonly Member[]): Entry[] {
  const lists = new Map<string, Member[]>();
  for (const member of members) {
    const key = (member.finding.waitingOn ?? []).join(' ');
    lists.set(key, [...(lists.get(key) ?? []), member]);
  }
  return [...lists].map(([reason, list], index) => waitingEntry(reason, list, index));
}

function waitingEntry(reason: string, members: readonly Member[], index: number): Entry {
  const inkNames = inksOf(members);
  const readings = members.length === 1 ? '1 reading' : `${members.length} readings`;
  const [was, is, its] = members.length === 1 ? ['was', 'is', 'it was'] : ['were', 'are', 'they were'];
  const of = inkNames.length === 0 ? '' : ` of ${inksInShort(inkNames)}`;
  const checks = [...new Set(members.map(({ check }) => check.id.replaceAll('-', ' ')))];
  const finding: Finding = {
    code: 'not-verified',
    outcome: 'needsReview',
    plateIds: [...new Set(members.flatMap(({ finding: { plateIds } }) => plateIds))],
    inkNames,
    measured: null,
    limit: null,
    places: [],
    placesTotal: 0,
    details: [listedShort(checks, checks.length)],
    advice: {
      customer: `We could not settle this: ${reason} Please tell us if it is as you want it, or send the original file.`,
      printer: `${readings}${of} ${was} fine as drawn and ${is} certain only once this is settled. Settle it and check again, or look by eye whether ${its} drawn as meant.`,
    },
  };
  return {
    ...entryOf(members[0]),
    anchor: `waiting-${index + 1}`,
    title: `Waiting on: ${reason}`,
    finding,
    members,
    sources: [],
    fold: 'waiting',
  };
}

/** The inks that all these findings have in common; all their inks when they have none in common. */
function inksOf(members: readonly Member[]): string[] {
  const all = [...new Set(members.flatMap(({ finding }) => finding.inkNames))];
  const common = all.filter((name) => members.every(({ finding }) => finding.inkNames.includes(name)));
  return common.length > 0 ? common : all;
}
