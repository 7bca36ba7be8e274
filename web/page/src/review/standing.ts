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

/** The decision that accepts an entry, when all it stands for was accepted. */
export function acceptedOf(entry: Entry, { decisions }: RevisionFacts): DecisionFacts | null {
  const standing = decisions.filter(({ kind, undone }) => kind === 'acceptFinding' && undone === null);
  const found = findingKeysOf(entry).map((key) =>
    standing.find(({ finding }) => finding !== null && nameOf(finding) === nameOf(key)),
  );
  return found.length > 0 && found.every((decision) => decision !== undefined) ? found[0]! : null;
}

/** The decision the revision stands by: the last release or hold that was not undone. */
export function standingDecisionOf({ decisions }: RevisionFacts): DecisionFacts | null {
  return decisions
    .filter(({ kind, undone }) => kind !== 'acceptFinding' && undone === null)
    .reduce<DecisionFacts | null>((last, one) => (last === null || one.id > last.id ? one : last), null);
}

function nameOf({ checkId, code, inkNames }: FindingKey): string {
  return JSON.stringify([checkId, code, inkNames]);
}
