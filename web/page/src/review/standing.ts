import type { Entry } from '../../../../src/report/entry.ts';
import type { DecisionFacts, FindingKey, RevisionFacts } from '../../../shared/jobs.ts';

/** The findings an entry stands for, so that a decision finds each of them again. */
export function findingKeysOf(entry: Entry): FindingKey[] {
  return entry.members.map(({ check, finding }) => ({
    checkId: check.id,
    code: finding.code,
    inkNames: finding.inkNames,
  }));
}

/**
 * The decisions that settle an entry, one for each finding it stands for; empty while one of them is open. Of several
 * about one finding the last holds.
 */
export function settledBy(entry: Entry, revision: RevisionFacts): readonly DecisionFacts[] {
  return decisionsAbout(findingKeysOf(entry), revision);
}

/** The same of findings by their keys. */
export function decisionsAbout(keys: readonly FindingKey[], { decisions }: RevisionFacts): readonly DecisionFacts[] {
  const standing = decisions.filter(({ finding, undone }) => finding !== null && undone === null);
  const found = keys.map((key) => standing.findLast(({ finding }) => nameOf(finding!) === nameOf(key)));
  return found.every((decision) => decision !== undefined) ? found : [];
}

/** The decision the revision stands by: the last one of itself that was not undone. */
export function standingDecisionOf({ decisions }: RevisionFacts): DecisionFacts | null {
  return decisions
    .filter(({ finding, undone }) => finding === null && undone === null)
    .reduce<DecisionFacts | null>((last, one) => (last === null || one.id > last.id ? one : last), null);
}

function nameOf({ checkId, code, inkNames }: FindingKey): string {
  return JSON.stringify([checkId, code, inkNames]);
}
