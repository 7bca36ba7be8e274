import { foldInkName } from '../../src/colour/normaliseInkName.ts';
import type { CheckResult, Finding } from '../../src/findings/finding.ts';
import type { ReportJson } from '../../src/report/reportJson.ts';
import type { ComparedFinding, FindingThen } from '../shared/compare.ts';

interface Found {
  readonly check: CheckResult;
  readonly finding: Finding;
}

/** The findings of two reports of a job, by check, code and inks: fixed, still there, or new. */
export function comparedFindings(before: ReportJson | null, after: ReportJson | null): ComparedFinding[] {
  const was = foundIn(before);
  const is = foundIn(after);
  return [...new Set([...is.keys(), ...was.keys()])].map((key) => {
    const [then, now] = [was.get(key) ?? null, is.get(key) ?? null];
    const { check, finding } = (now ?? then)!;
    return {
      ...{ checkId: check.id, code: finding.code, inkNames: finding.inkNames, title: check.title },
      kind: now === null ? 'fixed' : then === null ? 'new' : 'stillThere',
      before: then && factsOf(then.finding),
      after: now && factsOf(now.finding),
    };
  });
}

function foundIn(report: ReportJson | null): Map<string, Found> {
  const found = new Map<string, Found>();
  for (const check of report?.checks ?? [])
    for (const finding of check.findings)
      found.set(JSON.stringify([check.id, finding.code, finding.inkNames.map(foldInkName)]), { check, finding });
  return found;
}

function factsOf({ outcome, placesTotal, measured }: Finding): FindingThen {
  return {
    outcome,
    placesTotal,
    measured: measured && { value: measured.value, unit: measured.unit, plusMinus: measured.plusMinus },
  };
}
