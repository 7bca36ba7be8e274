import type { ReportJson } from '../report/reportJson.ts';
import { shownText } from '../report/words.ts';
import { settlingDecision } from './decided.ts';
import { itemWords } from './itemWords.ts';
import type { NoteUnits } from './noteQuantities.ts';
import { isAskedOf, pickRequests } from './pickRequests.ts';
import { type NoteLanguage, wordsIn } from './words/wordsIn.ts';

/** customer: asked in the note. shop: always the shop's own. ourselves, accepted: as somebody decided. */
export type SettledBy = 'customer' | 'shop' | 'ourselves' | 'accepted';

/** One point of a report, and who settles it. */
export interface NoteChoice {
  readonly by: SettledBy;
  /** What is wrong, in the language of whoever chooses. */
  readonly said: string;
  readonly findings: readonly {
    readonly checkId: string;
    readonly code: string;
    readonly inkNames: readonly string[];
  }[];
}

/** Every point of a report with who settles it, most important first. */
export function noteChoices(
  report: ReportJson,
  { language, units, weFix }: { language: NoteLanguage; units: NoteUnits; weFix: readonly string[] },
): NoteChoice[] {
  const words = wordsIn(language);
  const { stopping, open } = pickRequests(report, 'printer');
  return [...stopping, ...open].map((entry) => {
    const decided = entry.members.map(({ check, finding }) => settlingDecision(report, check.id, finding)?.kind);
    const isSettled = decided.length > 0 && decided.every((kind) => kind !== undefined);
    const isAccepted = decided.every((kind) => kind === 'acceptFinding');
    const open = isAskedOf(entry, weFix) ? 'customer' : 'shop';
    return {
      by: isSettled ? (isAccepted ? 'accepted' : 'ourselves') : open,
      said: itemWords(words, units, entry).defect || shownText(entry.title),
      findings: entry.members.map(({ check, finding: { code, inkNames } }) => ({ checkId: check.id, code, inkNames })),
    };
  });
}
