import { spokenInkName } from '../colour/colourWords.ts';
import type { Finding } from '../findings/finding.ts';
import { type Entry, entryOf, type Member, type PlaceSource } from './entry.ts';
import { excessOf } from './failingSide.ts';
import { listedShort } from './words.ts';

/** As many findings alike stay apart; more are folded into one. */
const mostApart = 2;
const mostPlaces = 200;
const mostNamed = 12;

/**
 * Entries for the findings of one check. Findings of the same code and outcome that differ in nothing but their inks
 * become one entry when there are more than two: the reading and the advice are those of the worst, the inks and places
 * are those of all, the details those that all have.
 */
export function foldAlike(members: readonly Member[]): Entry[] {
  const lists = new Map<string, Member[]>();
  for (const member of members) {
    const { code, outcome } = member.finding;
    const key = `${outcome} ${code}`;
    lists.set(key, [...(lists.get(key) ?? []), member]);
  }
  return [...lists.values()].flatMap((list) => (isFoldable(list) ? [foldOf(list)] : list.map(entryOf)));
}

function isFoldable(list: readonly Member[]): boolean {
  const inks = new Set(list.map(({ finding }) => JSON.stringify(finding.inkNames)));
  return list.length > mostApart && inks.size === list.length;
}

function foldOf(list: readonly Member[]): Entry {
  const members = list
    .map((member, index) => ({ member, index, excess: excessOf(member.check, member.finding) }))
    .sort((a, b) => b.excess - a.excess || a.index - b.index)
    .map(({ member }) => member);
  const [worst] = members;
  const sources = sourcesOf(members);
  const others = members.slice(1).map(({ finding }) => finding.inkNames.map(spokenInkName).join(' and '));
  const likewise = ` The same goes for ${listedShort(others, mostNamed)}.`;
  const { customer, printer } = worst.finding.advice;
  const finding: Finding = {
    ...worst.finding,
    plateIds: distinct(members.flatMap(({ finding: { plateIds } }) => plateIds)),
    inkNames: distinct(members.flatMap(({ finding: { inkNames } }) => inkNames)),
    places: sources.map(({ member, placeIndex }) => member.finding.places[placeIndex]),
    placesTotal: members.reduce((sum, { finding: { placesTotal } }) => sum + placesTotal, 0),
    details: worst.finding.details.filter((detail) =>
      members.every(({ finding: { details } }) => details.includes(detail)),
    ),
    advice: {
      customer: customer.trim() === '' ? '' : `${customer}${likewise}`,
      printer: printer.trim() === '' ? '' : `${printer}${likewise}`,
    },
  };
  return { ...entryOf(worst), finding, members, sources, fold: 'inks' };
}

/** The worst place of each finding first, then the second of each, so that the first few show different inks. */
function sourcesOf(members: readonly Member[]): PlaceSource[] {
  const sources: PlaceSource[] = [];
  const deepest = Math.max(...members.map(({ finding }) => finding.places.length));
  for (let placeIndex = 0; placeIndex < deepest; placeIndex += 1) {
    for (const member of members) {
      if (placeIndex < member.finding.places.length && sources.length < mostPlaces)
        sources.push({ member, placeIndex });
    }
  }
  return sources;
}

function distinct<T>(values: readonly T[]): T[] {
  return [...new Set(values)];
}
