import type { Entry } from './entry.ts';
import { counted } from './format.ts';
import type { ReportJson } from './reportJson.ts';

/** Inks in a few words: their names, or their number when there are more than three. */
export function inksInShort(names: readonly string[]): string {
  return names.length > 3 ? `${names.length} inks` : names.join(' / ');
}

/** How many findings a folded entry stands for: `8 inks`, `5 pairs`. */
export function membersInWords(members: Entry['members']): string {
  const sizes = new Set(members.map(({ finding }) => finding.inkNames.length));
  const noun = sizes.size > 1 ? 'finding' : sizes.has(1) ? 'ink' : sizes.has(2) ? 'pair' : 'finding';
  return counted(members.length, noun);
}

/** Whether these are all the inks that print, and more than one would name one by one. */
export function isEveryInk(report: ReportJson, names: readonly string[]): boolean {
  const printed = report.inks.filter((ink) => ink.printed);
  return names.length > 3 && printed.every((ink) => names.includes(ink.name));
}
